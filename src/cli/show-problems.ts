/** Problems as a person reads them in a terminal. The only place that knows colour. */
import { readFileSync } from "node:fs";
import { relative } from "node:path";
import pc from "picocolors";
import type { Problem, Severity } from "../base/problem.js";

const PAINT: Record<Severity, (text: string) => string> = {
  error: (text) => pc.red(pc.bold(text)),
  warning: (text) => pc.yellow(text),
  note: (text) => pc.cyan(text),
};

/** One problem: place, what is wrong, the line itself with the spot underlined, and a hint. */
export function showProblem(
  problem: Problem,
  linesOf: (file: string) => readonly string[] = readLines,
): string {
  const place = problem.file
    ? `${relative(process.cwd(), problem.file) || problem.file}${problem.line ? `:${problem.line}:${problem.column ?? 1}` : ""}`
    : "";
  const out = [
    `${pc.bold(place)}${place ? "  " : ""}${PAINT[problem.severity](problem.severity)}  ${problem.message} ${pc.dim(`(${problem.id})`)}`,
  ];
  if (problem.file && problem.line) {
    const line = linesOf(problem.file)[problem.line - 1];
    if (line !== undefined && line.trim() !== "") {
      const { shown, column } = windowOf(line, problem.column ?? 1);
      const gutter = String(problem.line).padStart(5);
      out.push(pc.dim(`${gutter} | `) + shown);
      const width = Math.max(1, Math.min(problem.length ?? 1, shown.length - column + 1));
      out.push(
        `${" ".repeat(5)} ${pc.dim("|")} ${" ".repeat(column - 1)}${PAINT[problem.severity]("^".repeat(width))}`,
      );
    }
  }
  const hint = hintOf(problem);
  if (hint) out.push(`        ${hint}`);
  for (const r of problem.related ?? []) out.push(pc.dim(`        line ${r.line}: ${r.message}`));
  return out.join("\n");
}

/** All problems of a run and a closing count. */
export function showProblems(problems: readonly Problem[]): string {
  if (problems.length === 0) return "";
  const cache = new Map<string, readonly string[]>();
  const linesOf = (file: string) => {
    const known = cache.get(file) ?? readLines(file);
    cache.set(file, known);
    return known;
  };
  return problems.map((p) => showProblem(p, linesOf)).join("\n\n");
}

/** `2 errors, 1 warning`; empty when there is nothing to say. */
export function countProblems(problems: readonly Problem[]): string {
  const count = (s: Severity) => problems.filter((p) => p.severity === s).length;
  return (["error", "warning", "note"] as const)
    .filter((s) => count(s) > 0)
    .map((s) => `${count(s)} ${s}${count(s) === 1 ? "" : "s"}`)
    .join(", ");
}

function hintOf(problem: Problem): string {
  const parts: string[] = [];
  if (problem.found !== undefined && !problem.message.includes(problem.found))
    parts.push(
      `found ${/^(?:"|a list$|keys and values$|nothing$)/u.test(problem.found) ? problem.found : `"${problem.found}"`}`,
    );
  const { expected } = problem;
  if (expected && !expected.endsWith(".") && !problem.message.includes(expected))
    parts.push(`expected ${expected}`);
  // A whole sentence of what to do stands as it is.
  const said = [parts.length > 0 ? `${parts.join("; ")}.` : "", expected?.endsWith(".") ? expected : ""]
    .filter(Boolean)
    .join(" ");
  const meant =
    problem.suggestion && !problem.message.includes(problem.suggestion)
      ? `Did you mean "${problem.suggestion.replaceAll(" or ", '" or "')}"?`
      : "";
  return [said, meant].filter(Boolean).join(" ");
}

/** Long lines are cut round the spot, so that the mark stays under it. */
function windowOf(line: string, column: number): { shown: string; column: number } {
  const flat = line.replace(/\t/gu, " ").replace(/\p{Cc}/gu, "\ufffd");
  if (flat.length <= 100) return { shown: flat, column };
  const start = Math.max(0, column - 50);
  return { shown: `…${flat.slice(start, start + 98)}`, column: column - start + 1 };
}

function readLines(file: string): readonly string[] {
  try {
    return readFileSync(file, "utf8")
      .slice(0, 2_000_000)
      .split(/\r\n|\r|\n/u);
  } catch {
    return [];
  }
}

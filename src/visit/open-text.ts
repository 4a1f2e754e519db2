/** From text to a source with positions; slips that stop YAML are named, mended and passed over, so that the rest is checked too. */
import type { Problem } from "../base/problem.js";
import { openYaml, type YamlSource } from "../base/yaml-source.js";
import { fileProblem, MAX_BYTES } from "./decode.js";
import { indentBeside, outOfStep } from "./mend-indent.js";
import { lineHint } from "./slips/line-slips.js";
import { missingQuote } from "./slips/missing-quote.js";
import type { LineHint } from "./slips/slip.js";
import { tabIndent } from "./slips/tab-indent.js";
import { unclosedBracket } from "./slips/unclosed-bracket.js";
import { type LostText, textAfterHash } from "./text-after-hash.js";

const MOST_REPAIRS = 40;

/** Opens the text of a visit or clinic file; without a source the problems say why. */
export function openText(text: string, file: string): { source?: YamlSource; problems: Problem[] } {
  if (text.length > MAX_BYTES)
    return { problems: [fileProblem("file-too-big", file, "more than 1 MiB of text")] };
  const clean = text.replace(/^\ufeff/u, "").replace(/\r\n?/gu, "\n");
  if (clean.includes("\0"))
    return { problems: [fileProblem("not-text", file, "a zero byte: this is not a text file")] };
  if (/^(?:\s|#[^\n]*(?:\n|$)|---(?:\s|$))*$/u.test(clean))
    return { problems: [fileProblem("empty-file", file, "the file is empty")] };
  const lines = clean.split("\n");
  const problems: Problem[] = takeHashForText(lines, file);
  for (let round = 0; round < MOST_REPAIRS; round++) {
    const opened = openYaml(lines.join("\n"), file, { asWritten: true });
    if (opened.source) {
      const original = { ...opened.source, lines: clean.split("\n") };
      return { source: original, problems: [...problems, ...opened.problems] };
    }
    const first = opened.problems[0];
    const mended = first?.id === "yaml-syntax" ? mend(lines, first) : undefined;
    const again = problems.some((p) => p.id === mended?.hint.problem && p.line === mended?.line);
    if (!mended || !first || again) return { problems: [...problems, ...opened.problems.slice(0, 5)] };
    problems.push({
      ...first,
      id: mended.hint.problem,
      message: mended.hint.message,
      ...(mended.hint.expected ? { expected: mended.hint.expected } : {}),
      ...(mended.hint.suggestion ? { suggestion: mended.hint.suggestion } : {}),
      line: mended.line,
      column: mended.hint.column,
      length: mended.hint.length,
    });
  }
  return { problems };
}

/** Where text would be lost after a #; the lines that cannot be read otherwise are mended in place. */
function takeHashForText(lines: string[], file: string): Problem[] {
  const problems: Problem[] = [];
  for (let round = 0; round < MOST_REPAIRS; round++) {
    const found = textAfterHash(lines.join("\n"));
    const within = found.find((lost) => lost.within);
    for (const lost of within ? [within] : found) problems.push(lostText(lost, file));
    if (!within) break;
    const { line, column } = within;
    const before = lines[line - 1] ?? "";
    // A character of the same width keeps every later column right.
    lines[line - 1] = `${before.slice(0, column - 1)}＃${before.slice(column)}`;
  }
  return problems;
}

function lostText({ line, column, lost, meant }: LostText, file: string): Problem {
  return {
    ...fileProblem("text-after-hash", file, `"${lost}" would be left out: after a space, # begins a remark`),
    expected: "quotes around the whole text; or, for a remark, two spaces before the # and one after it",
    ...(meant === undefined ? {} : { suggestion: meant }),
    line,
    column,
    length: lost.length,
  };
}

/** Mends the line that an error speaks of, in place. */
function mend(lines: string[], error: Problem): { hint: LineHint; line: number } | undefined {
  const at = (error.line ?? 1) - 1;
  const place = error.message.includes("bracket")
    ? firstHint(lines, up(at), (line) => unclosedBracket.notice(line))
    : undefined;
  const found =
    place ??
    (error.message.startsWith("a quote")
      ? firstHint(lines, [...lines.keys()], (line) => missingQuote.notice(line))
      : firstHint(lines, [at, at - 1, at + 1], lineHint));
  if (!found) return mendIndent(lines, at);
  if (found.hint.problem === "tab-indent") return { ...found, hint: mendTabs(lines, found.hint) };
  lines[found.line - 1] = found.hint.repaired;
  return found;
}

/** Indices from `at` back to the first line. */
const up = (at: number): number[] => Array.from({ length: at + 1 }, (_, i) => at - i);

function firstHint(
  lines: readonly string[],
  places: readonly number[],
  notice: (line: string) => LineHint | undefined,
): { hint: LineHint; line: number } | undefined {
  for (const index of places) {
    const line = lines[index];
    const hint = line === undefined ? undefined : notice(line);
    if (hint && hint.repaired !== line) return { hint, line: index + 1 };
  }
  return undefined;
}

/** A line out of step with its neighbours is set in step with them. */
function mendIndent(lines: string[], at: number): { hint: LineHint; line: number } | undefined {
  const found = outOfStep(lines, at);
  if (!found) return undefined;
  const { index, indent, meant } = found;
  const repaired = " ".repeat(meant) + (lines[index] ?? "").trimStart();
  lines[index] = repaired;
  const deep = indent > meant ? "further than" : "less than";
  const hint: LineHint = {
    problem: "out-of-step",
    message: `the line is indented ${deep} its neighbours`,
    expected: `${meant} ${meant === 1 ? "space" : "spaces"} before it, not ${indent}`,
    column: 1,
    length: Math.max(1, indent),
    repaired,
  };
  return { hint, line: index + 1 };
}

/** Tabs are one habit, not one slip a line: all are mended and reported once. */
function mendTabs(lines: string[], hint: LineHint): LineHint {
  let count = 0;
  for (let from = 0; from < lines.length; from++) {
    if (!tabIndent.notice(lines[from] ?? "")) continue;
    let to = from;
    while (tabIndent.notice(lines[to + 1] ?? "")) to++;
    count += to - from + 1;
    mendRun(lines, from, to);
    from = to;
  }
  return count > 1 ? { ...hint, message: `${hint.message}, here and on ${count - 1} more lines` } : hint;
}

/** Lines indented by tabs among lines indented by spaces: the shallowest stands as its neighbour does. */
function mendRun(lines: string[], from: number, to: number): void {
  const depths = lines.slice(from, to + 1).map((line) => /^[ ]*(\t[ \t]*)/u.exec(line)?.[1]?.length ?? 0);
  const least = Math.min(...depths);
  const base = indentBeside(lines, from, to);
  for (let i = from; i <= to; i++) {
    const repaired = tabIndent.notice(lines[i] ?? "")?.repaired ?? "";
    const steps = (depths[i - from] ?? least) - least;
    lines[i] = base === undefined ? repaired : " ".repeat(base + 2 * steps) + repaired.trimStart();
  }
}

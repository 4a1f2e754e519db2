/** From text to a source with positions; slips that stop YAML are named, mended and passed over, so that the rest is checked too. */
import type { Problem } from "../base/problem.js";
import { openYaml, type YamlSource } from "../base/yaml-source.js";
import { fileProblem, MAX_BYTES } from "./decode.js";
import { lineHint } from "./slips/line-slips.js";
import { missingQuote } from "./slips/missing-quote.js";
import type { LineHint } from "./slips/slip.js";
import { tabIndent } from "./slips/tab-indent.js";
import { unclosedBracket } from "./slips/unclosed-bracket.js";

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
  const problems: Problem[] = [];
  for (let round = 0; round < MOST_REPAIRS; round++) {
    const opened = openYaml(lines.join("\n"), file, { asWritten: true });
    if (opened.source) {
      const original = { ...opened.source, lines: clean.split("\n") };
      return { source: original, problems: [...problems, ...opened.problems] };
    }
    const first = opened.problems[0];
    const mended = first?.id === "yaml-syntax" ? mend(lines, first) : undefined;
    if (!mended || !first) return { problems: [...problems, ...opened.problems.slice(0, 5)] };
    problems.push({
      ...first,
      id: mended.hint.problem,
      message: mended.hint.message,
      expected: mended.hint.expected,
      ...(mended.hint.suggestion ? { suggestion: mended.hint.suggestion } : {}),
      line: mended.line,
      column: mended.hint.column,
      length: mended.hint.length,
    });
  }
  return { problems };
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
  if (!found) return undefined;
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

/** Tabs are one habit, not one slip a line: all are mended and reported once. */
function mendTabs(lines: string[], hint: LineHint): LineHint {
  let count = 0;
  for (const [i, line] of lines.entries()) {
    const tab = tabIndent.notice(line);
    if (!tab) continue;
    lines[i] = tab.repaired;
    count++;
  }
  return count > 1 ? { ...hint, message: `${hint.message}, here and on ${count - 1} more lines` } : hint;
}

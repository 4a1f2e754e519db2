/** From text to a source with positions; slips that stop YAML are named, mended and passed over, so that the rest is checked too. */
import type { Problem } from "../base/problem.js";
import { openYaml, type YamlSource } from "../base/yaml-source.js";
import { fileProblem, MAX_BYTES } from "./decode.js";
import { lineHint } from "./slips/line-slips.js";
import { missingQuote } from "./slips/missing-quote.js";
import type { LineHint } from "./slips/slip.js";
import { tabIndent } from "./slips/tab-indent.js";

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
  const around = [at, at - 1, at + 1];
  const unclosed = error.message.startsWith("a quote");
  const places = unclosed ? lines.keys() : around;
  for (const index of places) {
    const line = lines[index];
    const hint = line === undefined ? undefined : unclosed ? missingQuote.notice(line) : lineHint(line);
    if (!hint || hint.repaired === line) continue;
    if (hint.problem === "tab-indent") return { hint: mendTabs(lines, hint), line: index + 1 };
    lines[index] = hint.repaired;
    return { hint, line: index + 1 };
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

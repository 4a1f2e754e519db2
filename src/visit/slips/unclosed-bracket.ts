/** `[72, 35, 58`: a bracket that is opened on a line and not closed there, when YAML says that one is missing. */
import type { LineSlip } from "./slip.js";

const CLOSES: Readonly<Record<string, string>> = { "[": "]", "{": "}" };

export const unclosedBracket: LineSlip = {
  problem: "unclosed-bracket",
  examples: [{ good: "  symptoms: { itch: 2, pain: 0 }", bad: "  symptoms: { itch: 2, pain: 0" }],
  notice(line) {
    const open = openBrackets(line);
    const last = open.at(-1);
    if (last === undefined) return undefined;
    const closers = open
      .map(({ bracket }) => CLOSES[bracket])
      .reverse()
      .join("");
    return {
      problem: "unclosed-bracket",
      message: `a bracket (${last.bracket}) is opened and never closed`,
      expected: `${closers} at the end`,
      column: last.column,
      length: 1,
      repaired: `${line.replace(/[\s,]+$/u, "")}${closers}`,
    };
  },
};

/** Brackets of a line that stay open, outside quotes and comments. */
function openBrackets(line: string): { bracket: string; column: number }[] {
  const open: { bracket: string; column: number }[] = [];
  let quote = "";
  for (const [i, ch] of [...line].entries()) {
    if (quote !== "") quote = ch === quote ? "" : quote;
    else if ((ch === '"' || ch === "'") && /[\s,:[{]/u.test(line[i - 1] ?? " ")) quote = ch;
    else if (ch === "#" && /\s/u.test(line[i - 1] ?? " ")) break;
    else if (ch === "[" || ch === "{") open.push({ bracket: ch, column: i + 1 });
    else if (ch === CLOSES[open.at(-1)?.bracket ?? ""]) open.pop();
  }
  return open;
}

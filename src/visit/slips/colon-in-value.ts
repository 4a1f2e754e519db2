/** A value with a colon and a space in it, which begins a new key. */
import { KEY_VALUE, type LineSlip } from "./slip.js";

export const colonInValue: LineSlip = {
  problem: "colon-in-value",
  examples: [{ good: "  reason: New patch of hair loss.", bad: "  reason: New patch: hair loss." }],
  notice(line) {
    const match = KEY_VALUE.exec(line);
    const [before, value] = [match?.[1] ?? "", match?.[2] ?? ""];
    if (!/:(?:\s|$)/u.test(value) || /^["'[{|>&*]/u.test(value)) return undefined;
    const mended = value.includes("'") ? `"${value.replaceAll(/["\\]/gu, "\\$&")}"` : `'${value}'`;
    return {
      problem: "colon-in-value",
      message: "a second colon in the line begins a new key",
      expected: "quotes around a value that holds a colon",
      suggestion: mended,
      column: before.length + value.search(/:(?:\s|$)/u) + 1,
      length: 1,
      repaired: `${before}${mended}`,
    };
  },
};

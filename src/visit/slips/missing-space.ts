/** `onset:sudden`: the space after the colon makes the key. */
import type { LineSlip } from "./slip.js";

export const missingSpace: LineSlip = {
  problem: "missing-space",
  examples: [{ good: "  onset: sudden", bad: "  onset:sudden" }],
  notice(line) {
    const match = /^(\s*(?:- )?)([\p{L}][\p{L}\d_ -]*):(?![\s/])(\S.*)$/u.exec(line);
    if (!match) return undefined;
    const [before, key, value] = [match[1] ?? "", match[2] ?? "", match[3] ?? ""];
    return {
      problem: "missing-space",
      message: `no space after the colon of "${key}"`,
      expected: "key, colon, space, value",
      suggestion: `${key}: ${value}`,
      column: before.length + key.length + 1,
      length: 1,
      repaired: `${before}${key}: ${value}`,
    };
  },
};

/** `onset = sudden`: a habit from other kinds of file. */
import type { LineSlip } from "./slip.js";

export const equalsSign: LineSlip = {
  problem: "equals-sign",
  examples: [{ good: "  onset: sudden", bad: "  onset = sudden" }],
  notice(line) {
    const match = /^(\s*(?:- )?)([\p{L}][\p{L}\d_ -]*?)\s*=\s*(\S.*)$/u.exec(line);
    if (!match || /^[^=]*:\s/u.test(line)) return undefined;
    const [before, key, value] = [match[1] ?? "", match[2] ?? "", match[3] ?? ""];
    return {
      problem: "equals-sign",
      message: `an equals sign after "${key}"`,
      expected: "key, colon, space, value",
      suggestion: `${key}: ${value}`,
      column: line.indexOf("=") + 1,
      length: 1,
      repaired: `${before}${key}: ${value}`,
    };
  },
};

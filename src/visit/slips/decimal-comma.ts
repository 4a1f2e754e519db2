/** `11,5`: decimals are set off by a point. In a bracketed list the comma would part two numbers. */
import type { ValueSlip } from "./slip.js";

export const decimalComma: ValueSlip = {
  problem: "decimal-comma",
  examples: [{ good: "  field_diameter_mm: 11.5", bad: "  field_diameter_mm: 11,5" }],
  notice({ want, written }) {
    if (want.kind !== "number" || written === undefined) return undefined;
    const match = /^\s*([+-]?\d+),(\d+)\s*$/u.exec(written);
    if (!match) return undefined;
    const thousands = match[2]?.length === 3 && Number(`${match[1]}${match[2]}`) <= want.most;
    return {
      problem: "decimal-comma",
      message: `a comma in the number "${written.trim()}"`,
      expected: "a point before the decimals, and nothing between thousands",
      suggestion: thousands ? `${match[1]}.${match[2]} or ${match[1]}${match[2]}` : `${match[1]}.${match[2]}`,
    };
  },
};

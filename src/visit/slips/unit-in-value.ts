/** `length_mm: 32mm`: the unit is in the key, so the value is figures alone. */
import type { ValueSlip } from "./slip.js";
import { converted } from "./units.js";

export const unitInValue: ValueSlip = {
  problem: "unit-in-value",
  examples: [
    {
      good: "    patch: { length_mm: 32, width_mm: 25 }",
      bad: "    patch: { length_mm: 32mm, width_mm: 25 }",
    },
    { good: "extent: { left: 5 }", bad: "extent: { left: 5% }" },
  ],
  notice({ want, written }) {
    if (want.kind !== "number" || written === undefined) return undefined;
    const times = /^\s*[x×]\s*(\d+(?:\.\d+)?)\s*$/iu.exec(written)?.[1];
    if (times !== undefined) {
      return {
        problem: "unit-in-value",
        message: "a times sign is written with the number",
        expected: "figures alone",
        suggestion: times,
      };
    }
    const match = /^\s*(\d+(?:\.\d+)?)\s*([\p{L}%×/-]{1,10}[\p{L}%²0-9]*)\s*$/u.exec(written);
    const figures = match?.[1];
    const unit = match?.[2];
    if (figures === undefined || unit === undefined || /^e\d/iu.test(unit)) return undefined;
    const value = converted(Number(figures), unit, want.unit);
    return {
      problem: "unit-in-value",
      message: `the unit "${unit}" is written with the number`,
      expected: want.unit ? `figures alone, in ${want.unit}` : "figures alone",
      suggestion: String(value ?? figures),
    };
  },
};

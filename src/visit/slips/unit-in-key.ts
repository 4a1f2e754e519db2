/** `duration_months: 5`, `follow_up: { months: 3 }`, `length_cm: 3.2`: the right key in another unit. */
import type { KeySlip } from "./slip.js";
import { converted, sameInOtherUnit } from "./units.js";

export const unitInKey: KeySlip = {
  problem: "unit-in-key",
  examples: [
    { good: "  duration_weeks: 22", bad: "  duration_months: 5" },
    { good: "follow_up: { weeks: 13 }", bad: "follow_up: { months: 3 }" },
  ],
  notice({ key, accepted, map }) {
    const other = sameInOtherUnit(key.trim(), accepted);
    if (!other) return undefined;
    const raw = map[key];
    const amount = typeof raw === "string" && /^\s*\d+(?:\.\d+)?\s*$/u.test(raw) ? Number(raw) : undefined;
    const value = amount === undefined ? undefined : converted(amount, other.from, other.to);
    return {
      problem: "unit-in-key",
      message: `"${key}": this place counts in ${other.to}`,
      expected: `${other.key}, in ${other.to}`,
      suggestion: value === undefined ? other.key : `${other.key}: ${value}`,
    };
  },
};

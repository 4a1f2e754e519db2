/** `black dots: 14`: fourteen in how many fields? */
import type { ValueSlip } from "./slip.js";

export const amountAsNumber: ValueSlip = {
  problem: "amount-as-number",
  examples: [{ good: "      black dots: { count: 14, fields: 2 }", bad: "      black dots: 14" }],
  notice({ want, written }) {
    if (want.kind !== "amount" || written === undefined) return undefined;
    const match = /^\s*(\d+)\s*(?:(?:in|\/|per)\s*(\d+)?.*)?$/u.exec(written);
    if (!match) return undefined;
    const [count, fields] = [match[1], match[2]];
    return {
      problem: "amount-as-number",
      message: `"${written.trim()}" does not say in how many fields it was counted`,
      expected: "a count in a number of fields, or an amount in words",
      suggestion: Number(count) === 0 ? "none" : `{ count: ${count}, fields: ${fields ?? 1} }`,
    };
  },
};

/** `{ length_mm: 30,5, width_mm: 25 }`: within brackets the comma ends the number, and its decimals become a key. */
import type { KeySlip } from "./slip.js";

export const commaInBrackets: KeySlip = {
  problem: "decimal-comma",
  examples: [
    {
      good: "    patch: { length_mm: 30.5, width_mm: 25 }",
      bad: "    patch: { length_mm: 30,5, width_mm: 25 }",
    },
    {
      good: "      black dots: { count: 14, fields: 2 }",
      bad: "      black dots: { count: 14, fields: 2,0 }",
    },
  ],
  notice({ key, before }) {
    if (!/^\d+$/u.test(key)) return undefined;
    const number = /([+-]?\d+),$/u.exec(before)?.[1];
    if (number === undefined) return undefined;
    return {
      problem: "decimal-comma",
      message: `a comma in the number "${number},${key}"`,
      expected: "a point before the decimals, and nothing between thousands",
      suggestion: `${number}.${key}`,
    };
  },
};

/** Figures that stand below one another. */
import { expect, test } from "vitest";
import { onOneDecimal } from "../../src/letter/on-one-decimal.js";

test("figures with fewer digits before the decimal sign begin further right, signs counting as digits", () => {
  expect(
    onOneDecimal(["13.3 % (6.9 to 24.2)", "1.7 % (0.3 to 8.9)", "187 /cm²", "−3", "+57 %", "none"]),
  ).toEqual([
    "\u200713.3 % (6.9 to 24.2)",
    "\u2007\u20071.7 % (0.3 to 8.9)",
    "187 /cm²",
    "\u2007−3",
    "+57 %",
    "none",
  ]);
});

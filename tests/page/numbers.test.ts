/** Columns of numbers: decimal signs below one another. */
import { expect, test } from "vitest";
import { letterOf, pagesOf } from "./read-back.js";

async function placesOf(values: readonly string[]): Promise<number[]> {
  const rows = values.map(
    (v, i) => `<tr><th scope="row">row ${i}</th><td class="number">${v}</td><td>x</td></tr>`,
  );
  const head =
    '<thead><tr><th scope="col">Of</th><th scope="col" class="number">Value</th><th scope="col">Note</th></tr></thead>';
  const [page] = await pagesOf(letterOf(`<table>${head}<tbody>${rows.join("")}</tbody></table>`));
  return values.map((value) => {
    const item = page?.items.find(({ text }) => text.trim() === value);
    return item?.leftMm ?? Number.NaN;
  });
}

/** Width of a digit of the table's type in millimetres: Noto Sans, 572 thousandths of an em. */
const DIGIT = (12 * 0.572 * 25.4) / 72;

test("whole digits end at one place, whatever follows them", async () => {
  const [a = 0, b = 0, c = 0, d = 0] = await placesOf(["7", "12.5", "180", "3.25"]);
  expect(a - c).toBeCloseTo(2 * DIGIT, 1);
  expect(b - c).toBeCloseTo(DIGIT, 1);
  expect(d - c).toBeCloseTo(2 * DIGIT, 1);
});

test("what is no single number ends at the right edge", async () => {
  const [wide = 0, range = 0] = await placesOf(["12.50 %", "4 to 6"]);
  expect(range).toBeGreaterThan(wide);
});

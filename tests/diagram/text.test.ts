/** Lines of type in drawings. */
import { expect, test } from "vitest";
import { textWidth, wrap, wrapWell } from "../../src/diagram/text.js";

test("no word stands alone on the last line where as many narrower lines can avoid it", () => {
  const note = "Patches are drawn to scale on a head of this age.";
  const width = textWidth("Patches are drawn to scale on a head of this", 8);
  expect(wrap(note, 8, width)).toEqual(["Patches are drawn to scale on a head of this", "age."]);
  const lines = wrapWell(note, 8, width);
  expect(lines).toHaveLength(2);
  expect(lines[1]).toMatch(/ age\.$/u);
  expect(wrapWell("incomprehensibly long", 8, textWidth("incomprehensibly", 8))).toEqual([
    "incomprehensibly",
    "long",
  ]);
  expect(wrapWell("short", 8, 200)).toEqual(["short"]);
});

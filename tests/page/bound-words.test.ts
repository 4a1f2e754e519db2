/** What stays on one line. */
import { expect, test } from "vitest";
import { bindWords } from "../../src/page/type/bound-words.js";

function boundIn(text: string): string[] {
  return bindWords(text).flatMap((piece) => (piece.isBound ? [piece.text] : []));
}

test.each([
  ["Call 01632 960 141 now.", ["01632 960 141"]],
  ["+44 1632 960141", ["44 1632 960141"]],
  ["about 12 500 hairs, 95 % of them over 0.03 mm wide", ["12 500", "95 %", "0.03 mm"]],
  ["born 19 January 1965, at 4 Ropewalk Steps", ["19 January", "4 Ropewalk"]],
  ["geboren am 19. Januar 1965", ["19. Januar"]],
  ["Tarn Sound, TS1 3HB", ["TS1 3HB"]],
  ["TS12 1 of 3 hairs; v1 2x", []],
  ["in 5 weeks", []],
  ["1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16", []],
])("%s", (text, expected) => {
  expect(boundIn(text)).toEqual(expected);
  expect(
    bindWords(text)
      .map((piece) => piece.text)
      .join(""),
  ).toBe(text);
});

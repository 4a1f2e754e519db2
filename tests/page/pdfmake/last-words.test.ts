/** Words kept for the last line of a paragraph, pass after pass. */
import { expect, test } from "vitest";
import type { Inline } from "../../../src/page/pdfmake/engine.js";
import { keepLastWords } from "../../../src/page/pdfmake/patch-lines.js";

const words = (text: string) =>
  text
    .split(" ")
    .map(
      (word) =>
        ({ text: `${word} `, width: word.length + 1, trailingCut: 1, noNewLine: false }) as unknown as Inline,
    );
const kept = (list: readonly Inline[]) =>
  list.filter(({ noNewLine }) => noNewLine).map(({ text }) => text.trim());

test("the same words are kept in every pass, and none where the paragraph has come to fit on one line", () => {
  const list = words("pimples or redness that comes and spreads fast");
  for (let pass = 0; pass < 4; pass += 1) {
    keepLastWords(list, 40);
    expect(kept(list)).toEqual(["spreads"]);
  }
  keepLastWords(list, 200);
  expect(kept(list)).toEqual([]);
  expect(list.map(({ trailingCut }) => trailingCut)).toEqual(list.map(() => 1));
});

/** What stays on one line. */
import { expect, test } from "vitest";
import { bindWords, DATED, isMonth } from "../../src/page/type/bound-words.js";

function boundIn(text: string): string[] {
  return bindWords(text).flatMap((piece) => (piece.isBound ? [piece.text] : []));
}

test.each([
  ["Call 01632 960 141 today.", ["01632 960 141 today."]],
  ["+44 1632 960141", ["+44 1632 960141"]],
  ["about 12 500 hairs, 95 % of them over 0.03 mm wide", ["12 500 hairs,", "95 %", "0.03 mm"]],
  ["born 19 January 1965, at 4 Ropewalk Steps", ["19 January 1965,", "4 Ropewalk"]],
  ["geboren am 19. Januar 1965", ["am 19. Januar 1965"]],
  ["steht aus (13. November 2026)", ["aus (13. November 2026)"]],
  ["a follow-up, an X-ray or a well-being talk", ["follow-up,", "X-ray"]],
  ["nacida el 4 de julio de 1991.", ["4 de julio de 1991."]],
  ["itch 3, burning 0. Medicines: iron", ["itch 3,", "burning 0."]],
  ["Please check. Within 4 weeks.", ["4 weeks."]],
  ["by 10 March 2026 or in March 2027", ["10 March 2026", "March 2027"]],
  ["occipital 4 of 60, 0 anagen", ["4 of 60,", "0 anagen"]],
  ["okzipital 4 von 60 Haaren", ["4 von 60 Haaren"]],
  ["20 \u00d7 14 mm, n = 80; SD 12.1", ["20 \u00d7 14 mm,", "n = 80;", "SD 12.1"]],
  ["132 de 140 y n 132", ["132 de 140 y", "n 132"]],
  ["Sehr geehrte Frau Dr. Vale, Dear Dr Brandt", ["Frau Dr. Vale,", "Dr Brandt"]],
  ["seen in 2026 the patch", ["in 2026"]],
  ["Tarn Sound, TS1 3HB", ["TS1 3HB"]],
  ["about 4\u00bd cm across, 2\u00be years", ["4\u00bd cm", "2\u00be years"]],
  ["Narrow places (a few). Back (in 12 weeks), Der (am Ohr)", ["(a few).", "(in 12 weeks),", "(am Ohr)"]],
  ["Skin phototype: IV. Hauttyp: II, as I said: I am", ["phototype: IV.", "Hauttyp: II,", "said: I"]],
  ["No numbers and No names (not bound)", []],
  ["1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16", []],
])("%s", (text, expected) => {
  expect(boundIn(text)).toEqual(expected);
  expect(
    bindWords(text)
      .map((piece) => piece.text)
      .join(""),
  ).toBe(text);
});

test.each(DATED)("knows the months as dates name them in %s", (language) => {
  const names = ["long", "short"].flatMap((month) => {
    const format = new Intl.DateTimeFormat(language, { day: "numeric", month: month as "long" });
    return Array.from({ length: 12 }, (_, i) =>
      format.formatToParts(new Date(2026, i, 5)).find(({ type }) => type === "month"),
    );
  });
  expect(names.filter((name) => !isMonth(name?.value ?? ""))).toEqual([]);
});

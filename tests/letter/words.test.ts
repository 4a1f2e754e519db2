import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { fill } from "../../src/base/text.js";
import { loadPack } from "../../src/letter/pack.js";
import {
  asSentence,
  capital,
  list,
  type Words,
  writeAge,
  writeDate,
  writeDuration,
  writeNumber,
  writeRecorded,
} from "../../src/letter/phrases.js";
import { yearsBetween } from "../../src/visit/calendar.js";

function words(language: string): Words {
  const { pack } = loadPack(language);
  if (!pack) throw new Error(language);
  return pack.words;
}
const en = words("en-GB");
const us = words("en-US");
const de = words("de");
const es = words("es");

describe("dates", () => {
  it("are written in the habit of the language", () => {
    expect(writeDate(en, "2026-03-12")).toBe("12 March 2026");
    expect(writeDate(us, "2026-03-12")).toBe("March 12, 2026");
    expect(writeDate(de, "2026-03-02")).toBe("2. März 2026");
    expect(writeDate(es, "2026-03-01")).toBe("1 de marzo de 2026");
  });

  it("leave text that is no date as it stands", () => {
    expect(writeDate(en, "spring")).toBe("spring");
    expect(writeDate(en, "2026-13-01")).toBe("2026-13-01");
  });
});

describe("durations", () => {
  it.each([
    [0.3, "about 2 days"],
    [3 / 7, "3 days"],
    [1, "one week"],
    [2.5, "2½ weeks"],
    [2.4, "about 2½ weeks"],
    [2.2, "about 2 weeks"],
    [16, "16 weeks"],
    [17, "about 4 months"],
    [26, "about 6 months"],
    [52, "about 12 months"],
    [103, "about 24 months"],
    [104, "about 2 years"],
    [131, "about 2½ years"],
    [520, "about 10 years"],
    [545, "about 10 years"],
  ])("of %d weeks read %s", (weeks, text) => {
    expect(writeDuration(en, weeks)).toBe(text);
  });

  it("bend after a word such as in, where the language asks for it", () => {
    expect(writeDuration(de, 26)).toBe("etwa 6 Monate");
    expect(writeDuration(de, 26, true)).toBe("etwa 6 Monaten");
    expect(writeDuration(de, 1, true)).toBe("einer Woche");
    expect(writeDuration(en, 26, true)).toBe("about 6 months");
    expect(writeDuration(es, 12, true)).toBe("12 semanas");
  });
});

describe("ages", () => {
  it("are completed years, or months under two years", () => {
    expect(writeAge(en, "1991-07-04", "2026-07-03")).toBe("34 years");
    expect(writeAge(en, "1991-07-04", "2026-07-04")).toBe("35 years");
    expect(writeAge(en, "2024-12-31", "2026-02-28")).toBe("13 months");
    expect(writeAge(en, "2026-01-31", "2026-02-28")).toBe("0 months");
    expect(writeAge(de, "2025-01-31", "2026-03-01")).toBe("13 Monate");
  });

  it("turn on the birthday, also of a leap day", () => {
    expect(yearsBetween("2004-02-29", "2026-02-28")).toBe(21);
    expect(yearsBetween("2004-02-29", "2026-03-01")).toBe(22);
  });
});

describe("lists and sentences", () => {
  it("join the last two with the word of the language", () => {
    expect(list(en, [])).toBe("");
    expect(list(en, ["a"])).toBe("a");
    expect(list(en, ["a", "b"])).toBe("a and b");
    expect(list(de, ["a", "b", "c"])).toBe("a, b und c");
    expect(list(es, ["a", "b", "c"])).toBe("a, b y c");
    expect(list(es, ["a", "hirsutismo"])).toBe("a e hirsutismo");
    expect(list(es, ["a", "hielo"])).toBe("a y hielo");
    expect(list(en, ["a, b or c", "d", "e"])).toBe("a, b or c; d; e");
  });

  it.each([
    ["no change", "No change."],
    ["Done already.", "Done already."],
    ["is it settling?", "Is it settling?"],
    ['she said "now."', 'She said "now."'],
    ["  spaced out  ", "Spaced out."],
    ["éclair", "Éclair."],
    ["", ""],
  ])("closes %j as %j", (text, said) => {
    expect(asSentence(text)).toBe(said);
  });

  it("closes any text once and loses no word of it", () => {
    fc.assert(
      fc.property(fc.string({ unit: "grapheme", minLength: 1, maxLength: 40 }), (text) => {
        const said = asSentence(text);
        if (text.trim() === "") return said === "";
        const afterFirst = (t: string) => [...t].slice(1).join("");
        return asSentence(said) === said && afterFirst(said).startsWith(afterFirst(text.trim()));
      }),
    );
  });

  it("gives the first letter its capital, whatever letter it is", () => {
    expect(capital("ödem")).toBe("Ödem");
    expect(capital("ßa")).toBe("ßa");
    expect(capital("ϐ")).toBe("ϐ");
    expect(capital("")).toBe("");
  });
});

describe("numbers and gaps", () => {
  it("use the decimal sign of the language and a real minus", () => {
    expect(writeNumber(en, Math.PI, 2)).toBe("3.14");
    expect(writeNumber(de, Math.PI, 2)).toBe("3,14");
    expect(writeNumber(en, -2.5, 1)).toBe("\u22122.5");
    expect(writeNumber(en, -0.04, 1)).toBe("0.0");
  });

  it("recorded are written to their last decimal", () => {
    expect(writeRecorded(en, 3.5)).toBe("3.5");
    expect(writeRecorded(en, 0.4)).toBe("0.4");
    expect(writeRecorded(en, 3)).toBe("3");
    expect(writeRecorded(de, 1234.25)).toBe("1234,25");
    expect(writeRecorded(en, -0.0000001)).toBe("\u22120.0000001");
  });

  it("leave an unknown gap in sight", () => {
    expect(fill("{a} of {b}", { a: 1 })).toBe("1 of {b}");
  });
});

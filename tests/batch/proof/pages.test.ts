/** Places, feet, marks and words of pages as read back, on pages made up run by run. */
import { describe, expect, it } from "vitest";
import {
  compareWords,
  countMoved,
  countOtherSigns,
  letterWords,
} from "../../../src/batch/proof/letter-words.js";
import { addressFaults, clippedFaults, sheetFaults } from "../../../src/batch/proof/places.js";
import { draftFaults, footFaults, printedPages } from "../../../src/batch/proof/printed-pages.js";
import { type PageText, type TextRun, textOf } from "../../../src/batch/proof/read-pdf.js";
import { spelled } from "../../../src/batch/token-text.js";
import type { Letter } from "../../../src/letter/document.js";
import { mm } from "../../../src/page/type/paper.js";
import { visit } from "../../measure/visit-for-tests.js";

const WIDTH = mm(210);
const HEIGHT = mm(297);

function run(text: string, left: number, top: number, more: Partial<TextRun> = {}): TextRun {
  return { text, left, right: left + 60, top, bottom: top + 10, turned: false, endsLine: true, ...more };
}

function page(runs: readonly TextRun[], more: Partial<PageText> = {}): PageText {
  return { width: WIDTH, height: HEIGHT, rotation: 0, isMoved: false, runs, ...more };
}

const letter: Letter = {
  kind: "referral-letter",
  title: "Letter",
  language: "en-GB",
  paper: "A4",
  typeSize: "reading",
  addressWindow: "uk-dl",
  foldMarks: false,
  draftMark: null,
  identifiers: "Runa Havelock-Deng, no. TS-51206",
  confidentiality: "In confidence.",
  pageWords: "Page {page} of {pages}",
  date: "2026-04-21",
  html: "",
  photos: {},
};
const ids = (reasons: readonly { id: string; where?: string }[]) =>
  reasons.map((r) => `${r.id}${r.where ? ` ${r.where}` : ""}`);

describe("the window", () => {
  const recipient = { role: "gp", name: "Dr Ivo Quill", address: ["1 Fish Street"], copy: false };
  const [left, top, right, bottom] = [mm(25), mm(57), mm(25 + 75), mm(57 + 24)];
  const name = run("Dr Ivo Quill", left + 5, top + 5);
  const street = run("1 Fish Street", left + 5, top + 20);
  const faults = (runs: readonly TextRun[], window: Letter["addressWindow"] = "uk-dl") =>
    ids(addressFaults([page(runs)], { letter: { ...letter, addressWindow: window }, recipient }));
  const BAD = ["address-differs page 1"];

  it("shows name and address, and nothing else", () => {
    expect(faults([name, street])).toEqual([]);
    expect(faults([name])).toEqual(BAD);
    expect(faults([street, name])).toEqual(BAD);
    expect(faults([name, street, run("Ref 7", left + 5, top + 40)])).toEqual(BAD);
    expect(faults([name, street, run("Ref 7", left + 5, bottom + 1)])).toEqual([]);
    expect(faults([name, street, run("\u2022 \u2014", left + 5, top + 40)])).toEqual([]);
    expect(faults([name, street, run("Draft", left, top, { turned: true })])).toEqual([]);
  });

  it.each<[string, Partial<TextRun>, boolean]>([
    ["two points beyond the left edge", { left: left - 2 }, true],
    ["three points beyond the left edge", { left: left - 3 }, false],
    ["two points beyond the right edge", { right: right + 2 }, true],
    ["three points beyond the right edge", { right: right + 3 }, false],
    ["two points beyond the lower edge", { bottom: bottom + 2 }, true],
    ["three points beyond the lower edge", { bottom: bottom + 3 }, false],
  ])("an address %s", (_, place, good) => {
    expect(faults([name, { ...street, ...place }])).toEqual(good ? [] : BAD);
  });

  it.each<[string, Partial<TextRun>, boolean]>([
    ["touches it from the left by less than two points", { left: 0, right: left + 2 }, true],
    ["reaches into it from the left", { left: 0, right: left + 3 }, false],
    ["touches it from the right by less than two points", { left: right - 2, right: right + 40 }, true],
    ["reaches into it from the right", { left: right - 3, right: right + 40 }, false],
    ["touches it from above by less than two points", { top: top - 9, bottom: top + 2 }, true],
    ["reaches into it from above", { top: top - 9, bottom: top + 3 }, false],
    ["touches it from below by less than two points", { top: bottom - 2, bottom: bottom + 8 }, true],
    ["reaches into it from below", { top: bottom - 3, bottom: bottom + 7 }, false],
  ])("other text %s", (_, place, good) => {
    const other = { ...run("Clinic", left + 5, top + 40), ...place };
    expect(faults([name, street, other])).toEqual(good ? [] : BAD);
  });

  it("without one the address stands somewhere on the first page", () => {
    const far = [run("Dr Ivo Quill", 10, 700), run("1 Fish Street", 10, 712)];
    expect(faults(far)).toEqual(BAD);
    expect(faults(far, "none")).toEqual([]);
    expect(faults([far[1] as TextRun, far[0] as TextRun], "none")).toEqual(BAD);
    expect(ids(addressFaults([page(far)], { letter, recipient: null }))).toEqual([]);
    expect(ids(addressFaults([], { letter, recipient }))).toEqual([]);
  });
});

describe("text at the edge", () => {
  const at = (more: Partial<TextRun>) =>
    ids(clippedFaults([page([]), page([{ ...run("word", 50, 50), ...more }])]));
  it.each<[Partial<TextRun>, boolean]>([
    [{ left: -2 }, true],
    [{ left: -3 }, false],
    [{ right: WIDTH + 2 }, true],
    [{ right: WIDTH + 3 }, false],
    [{ top: -2 }, true],
    [{ top: -3 }, false],
    [{ bottom: HEIGHT + 2, top: HEIGHT - 8 }, true],
    [{ bottom: HEIGHT + 3, top: HEIGHT - 8 }, false],
    [{ left: -3, text: "  " }, true],
    [{ left: -3, top: 0, bottom: 0.4 * HEIGHT + 1 }, true],
    [{ left: -3, top: 0, bottom: 0.4 * HEIGHT - 1 }, false],
  ])("%j", (more, good) => {
    expect(at(more)).toEqual(good ? [] : ["text-clipped page 2"]);
  });
});

describe("the sheet", () => {
  const faults = (more: Partial<PageText>, paper: Letter["paper"] = "A4") =>
    ids(sheetFaults([page([], more)], { paper }));
  it("is whole, of its paper, and the right way up", () => {
    expect(faults({})).toEqual([]);
    expect(faults({ width: WIDTH + 1 })).toEqual([]);
    expect(faults({ width: WIDTH + 1.1 })).toEqual(["page-cut page 1"]);
    expect(faults({ height: HEIGHT - 1 })).toEqual([]);
    expect(faults({ height: HEIGHT - 1.1 })).toEqual(["page-cut page 1"]);
    expect(faults({ isMoved: true })).toEqual(["page-cut page 1"]);
    expect(faults({}, "Letter")).toEqual(["page-cut page 1"]);
    expect(faults({ rotation: 90 })).toEqual(["page-turned page 1"]);
    expect(faults({ rotation: 360 })).toEqual([]);
    expect(ids(sheetFaults([page([]), page([], { rotation: 180, isMoved: true })], letter))).toEqual([
      "page-turned page 2",
      "page-cut page 2",
    ]);
  });
});

describe("a printed page", () => {
  const foot = [
    run(letter.identifiers, 50, 800),
    run("In confidence.", 50, 812),
    run("Page 1 of 2", 500, 800),
  ];
  const read = (runs: readonly TextRun[], given: Partial<Letter> = {}) =>
    printedPages([page(runs)], { ...letter, ...given }, 2)[0];

  it("is its body without the foot, which it must carry whole", () => {
    const found = read([run("Dear Dr Quill,", 50, 100), run("No. TS-51206 came.", 50, 120), ...foot]);
    expect(found?.body).toEqual(["dear", "dr", "quill", "no", "ts", "51206", "came"]);
    expect(found).toMatchObject({ number: 1, isNumbered: true, isBare: false });
    expect(found && ids(footFaults([found], { visit: visit(), letter }))).toEqual([]);
  });

  it("without the page's number, or with another, is not numbered", () => {
    expect(read([run("Dear", 50, 100), ...foot.slice(0, 2)])?.isNumbered).toBe(false);
    expect(read([run("Dear", 50, 100), ...foot.slice(0, 2), run("Page 2 of 2", 500, 800)])?.isNumbered).toBe(
      false,
    );
    expect(read([run("Dear", 50, 100), ...foot.slice(0, 2), run("Page 1 of 3", 500, 800)])?.isNumbered).toBe(
      false,
    );
  });

  it("with nothing but its foot is bare", () => {
    expect(read(foot)).toMatchObject({ body: [], isBare: true, isNumbered: true });
  });

  it.each([
    ["the name", "Havelock-Deng", "Havelock"],
    ["the number", "51206", "51207"],
  ])("that lacks %s is told", (_, from, to) => {
    const wrong = foot.map((r) => ({ ...r, text: r.text.replace(from, to) }));
    const found = read([run("Dear", 50, 100), ...wrong]);
    expect(found && ids(footFaults([found], { visit: visit(), letter }))).toEqual([
      "patient-not-named page 1",
    ]);
  });

  it("sets the numbers of list items apart, which the engine draws after their first line", () => {
    const found = read([
      run("Please repeat the thyroid", 80, 100),
      run("1.", 60, 100, { right: 68 }),
      run("test.", 80, 112),
      ...foot,
    ]);
    expect(found?.running.words).toEqual(["please", "repeat", "the", "thyroid", "test"]);
    expect(found?.body).toEqual(["please", "repeat", "the", "thyroid", "test", "1"]);
  });

  it.each<[string, Partial<TextRun>, boolean]>([
    ["beside the text", {}, true],
    ["twenty points from it", { left: 48, right: 60 }, false],
    ["a line above it", { bottom: 107 }, false],
    ["of three figures", { text: "100." }, false],
    ["of two figures", { text: "12." }, true],
    ["with spaces around", { text: " 1. " }, true],
    ["that goes on", { text: "1.5" }, false],
    ["two points lower", { bottom: 112 }, false],
    ["without a full stop", { text: "1" }, false],
  ])("a number %s is a list's: %s", (_, more, isLabel) => {
    const number = { ...run("1.", 60, 100, { right: 68 }), ...more };
    const words = read([run("Please", 80, 100), number, run("test.", 80, 112), ...foot])?.running.words ?? [];
    expect(words.join(" ") === "please test").toBe(isLabel);
    const second = printedPages(
      [page([]), page([run("Dear", 50, 100), ...foot.slice(0, 2), run("Page 2 of 2", 500, 800)])],
      letter,
      2,
    )[1];
    expect(second).toMatchObject({ number: 2, isNumbered: true, body: ["dear"] });
  });

  it("carries the draft mark across it, or nowhere", () => {
    const tall = run("DRAFT", 100, 100, { turned: true, bottom: 100 + 0.4 * HEIGHT + 1 });
    const small = { ...tall, bottom: 100 + 0.4 * HEIGHT - 1 };
    const marked = (mark: TextRun | undefined, isDraft: boolean) => {
      const found = read([run("Dear", 50, 100), ...(mark ? [mark] : []), ...foot]);
      return found && ids(draftFaults([found], isDraft, "Draft"));
    };
    expect(marked(tall, true)).toEqual([]);
    expect(marked(tall, false)).toEqual(["draft-mark-wrong page 1"]);
    expect(read([run("Dear", 50, 100), tall, ...foot])?.all).not.toContain("draft");
    expect(marked(small, true)).toEqual(["draft-mark-missing page 1"]);
    expect(marked(undefined, false)).toEqual([]);
    expect(marked({ ...tall, text: "COPY" }, true)).toEqual(["draft-mark-missing page 1"]);
    expect(marked({ ...tall, turned: false }, true)).toEqual(["draft-mark-missing page 1"]);
  });
});

describe("runs", () => {
  const word = (text: string, left: number, more: Partial<TextRun> = {}) =>
    run(text, left, 100, { right: left + 10, endsLine: false, ...more });
  it("that touch on one line are one word, others are apart", () => {
    expect(textOf([word("hy", 10), word("per", 20)])).toBe("hyper");
    expect(textOf([word("hy", 10), word("per", 21.4)])).toBe("hyper");
    expect(textOf([word("hy", 10), word("per", 21.6)])).toBe("hy\nper");
    expect(textOf([word("hy", 10), word("per", 20, { top: 104, bottom: 114 })])).toBe("hyper");
    expect(textOf([word("hy", 10), word("per", 20, { top: 106, bottom: 116 })])).toBe("hy\nper");
    expect(textOf([word("hy", 10, { endsLine: true }), word("per", 20)])).toBe("hy\nper");
    expect(textOf([word("hy", 10, { turned: true }), word("per", 20)])).toBe("hy\nper");
    expect(textOf([word("hy", 10), word("per", 20, { turned: true })])).toBe("hy\nper");
  });
});

describe("the words of a letter", () => {
  const of = (html: string) => letterWords({ ...letter, html });

  it("are those printed, in their passages; heads and list numbers may come again", () => {
    const words = of(
      "<p>One <b>two</b></p><table><thead><tr><th>Head</th></tr></thead><tbody><tr><td>two</td></tr></tbody></table>" +
        "<ol><li>three</li><li>four</li></ol><svg><title>unseen</title><defs><text>spare</text></defs><text>map</text></svg>",
    );
    expect([...words.counts]).toEqual([
      ["one", 1],
      ["two", 2],
      ["head", 1],
      ["three", 1],
      ["four", 1],
      ["map", 1],
    ]);
    expect([...words.mayRepeat].sort()).toEqual(["1", "2", "head"]);
    expect(words.passages.map((p) => p.words.join(" "))).toEqual([
      "one two",
      "head",
      "two",
      "three",
      "four",
      "map",
    ]);
  });

  it("in right-to-left scripts are counted and held in no order", () => {
    const words = of("<p>\u05e9\u05dc\u05d5\u05dd 5 \u05d9\u05d5\u05dd</p><p>plain text</p>");
    expect(words.counts.get("5")).toBe(1);
    expect(words.passages.map((p) => p.words.join(" "))).toEqual(["plain text"]);
  });

  it("are counted against those printed", () => {
    const words = of("<p>one two two perifollicular</p><ol><li>x</li></ol>");
    const compare = (text: string) => compareWords(words, spelled(text).words);
    expect(compare("one two two perifollicular x 1")).toEqual({ missing: [], added: [] });
    expect(compare("one two perifollicular x")).toEqual({ missing: ["two"], added: [] });
    expect(compare("one two two two perifollicular x 2")).toEqual({ missing: [], added: ["two", "2"] });
    expect(compare("one two two perifol licular x")).toEqual({ missing: [], added: [] });
    expect(compare("one two two perifol x licula")).toEqual({
      missing: ["perifollicular"],
      added: ["perifol", "licula"],
    });
  });

  it("that stand in another order, or with other signs, are told by passage", () => {
    const words = of("<p>one two</p><p>1.5 %</p><p>three</p>");
    expect(countMoved(words, spelled("one two three 1.5 %"))).toBe(0);
    expect(countMoved(words, spelled("two one three 5 1"))).toBe(2);
    expect(countOtherSigns(words, spelled("one two three 1.5 %"))).toBe(0);
    expect(countOtherSigns(words, spelled("one, two three 1.5"))).toBe(2);
  });
});

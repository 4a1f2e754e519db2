import { describe, expect, it } from "vitest";
import { readPdf } from "../../src/batch/proof/read-pdf.js";
import { renderEnvelopes, renderLabels } from "../../src/page/addresses.js";
import {
  ENVELOPES,
  type EnvelopeName,
  LABEL_SHEETS,
  type LabelSheetName,
} from "../../src/page/type/address-paper.js";
import { addressRows } from "../../src/page/type/address-rows.js";
import { textWidth } from "../../src/page/type/fonts.js";
import { mm } from "../../src/page/type/paper.js";

describe("a line of an address", () => {
  const line = "40 North Gate, Tarn Sound, TS4 8LD";
  it("stands whole where it just fits, and goes on after a comma where it does not", () => {
    const width = textWidth(line, 10);
    expect(addressRows(line, width, 10)).toEqual([line]);
    expect(addressRows(line, width - 0.01, 10)).toEqual(["40 North Gate, Tarn Sound,", "TS4 8LD"]);
    expect(addressRows(line, 1, 10)).toEqual(["40 North Gate,", "Tarn Sound,", "TS4 8LD"]);
  });
  it("keeps a state and its code with the town", () => {
    expect(addressRows("2 Quay, Port, NY 10001", 1, 10)).toEqual(["2 Quay,", "Port, NY 10001"]);
  });
});

const OPTIONS = { language: "en-GB", title: "Clinic", date: "2026-11-27" };
const SHEET_NAMES = Object.keys(LABEL_SHEETS) as LabelSheetName[];
const ENVELOPE_NAMES = Object.keys(ENVELOPES) as EnvelopeName[];
const address = (n: number) => ({ lines: [`Dr Ilse Brandt${n}`, "1 Fish Street", "Tarn Sound", "TS1 1AA"] });

async function pagesOf(made: ReturnType<typeof renderLabels>) {
  const { value, problems } = await made;
  expect(problems).toEqual([]);
  if (!value) throw new Error("nothing was made");
  const pages = await readPdf(value.bytes);
  if (!pages) throw new Error("the PDF cannot be read");
  return pages;
}

describe.each(SHEET_NAMES)("labels %s", (name) => {
  const sheet = LABEL_SHEETS[name];
  const each = sheet.columns * sheet.rows;

  it("lie on their paper and not on each other", () => {
    const { label, columns, rows, leftMm, topMm, betweenColumnsMm, betweenRowsMm } = sheet;
    expect(leftMm).toBeGreaterThanOrEqual(0);
    expect(topMm).toBeGreaterThanOrEqual(0);
    const right = leftMm + columns * label.widthMm + (columns - 1) * betweenColumnsMm;
    const bottom = topMm + rows * label.heightMm + (rows - 1) * betweenRowsMm;
    expect(right).toBeLessThanOrEqual(sheet.widthMm + 1e-9);
    expect(bottom).toBeLessThanOrEqual(sheet.heightMm + 1e-9);
  });

  it("hold each address in its own label, and go on with the next sheet", async () => {
    const pages = await pagesOf(
      renderLabels(
        Array.from({ length: each + 1 }, (_, i) => address(i)),
        name,
        2,
        OPTIONS,
      ),
    );
    expect(pages).toHaveLength(2);
    for (const [p, page] of pages.entries()) {
      for (const run of page.runs.filter((r) => r.text.trim() !== "")) {
        const n = Number(/Brandt(\d+)$/u.exec(run.text)?.[1] ?? Number.NaN);
        if (Number.isNaN(n)) continue;
        const place = n + 1 - p * each;
        const left = mm(
          sheet.leftMm + (place % sheet.columns) * (sheet.label.widthMm + sheet.betweenColumnsMm),
        );
        const top = mm(sheet.topMm + Math.floor(place / sheet.columns) * sheet.label.heightMm);
        expect(run.left, run.text).toBeGreaterThan(left);
        expect(run.right, run.text).toBeLessThan(left + mm(sheet.label.widthMm));
        expect(run.top, run.text).toBeGreaterThan(top);
        expect(run.bottom, run.text).toBeLessThan(top + mm(sheet.label.heightMm));
      }
    }
    const told = pages.flatMap((page) => page.runs.map((r) => r.text)).join(" ");
    expect([...told.matchAll(/Brandt(\d+)/gu)]).toHaveLength(each + 1);
  });
});

describe("an address", () => {
  it("that is too long for a line goes on in the next, and one too long for the label is refused by its number", async () => {
    const long = { lines: ["Professor Annelise Wetherington of the Harbour Institute", "Tarn Sound"] };
    const pages = await pagesOf(renderLabels([long], "a4-3x8", 1, OPTIONS));
    expect(pages[0]?.runs.map((r) => r.text).join(" ")).toContain("Professor Annelise");
    const lines = Array.from({ length: 14 }, (_, i) => `Line ${i}`);
    const { value, problems } = await renderLabels([address(1), { lines }], "letter-3x10", 1, OPTIONS);
    expect(value).toBeUndefined();
    expect(problems).toMatchObject([{ id: "address-does-not-fit", message: "address 2 does not fit" }]);
  });

  it("is refused where no typeface has its signs", async () => {
    const { value, problems } = await renderLabels([{ lines: ["\u{13000}"] }], "a4-3x8", 1, OPTIONS);
    expect(value).toBeUndefined();
    expect(problems.map((p) => p.id)).toEqual(["no-glyph"]);
  });
});

describe.each(ENVELOPE_NAMES)("an envelope %s", (name) => {
  it("has its own size, the sender above left and the addressee below right of the middle", async () => {
    const pages = await pagesOf(
      renderEnvelopes([address(1), address(2)], name, ["Clinic", "Harbour"], OPTIONS),
    );
    expect(pages).toHaveLength(2);
    const { widthMm, heightMm } = ENVELOPES[name];
    for (const page of pages) {
      expect(page.width).toBeCloseTo(mm(widthMm), 0);
      expect(page.height).toBeCloseTo(mm(heightMm), 0);
      const at = (words: RegExp) => page.runs.find((r) => words.test(r.text));
      expect(at(/Brandt/u)?.left).toBeGreaterThan(mm(widthMm) * 0.4);
      expect(at(/Brandt/u)?.top).toBeGreaterThan(mm(heightMm) * 0.4);
      expect(at(/TS1 1AA/u)?.bottom).toBeLessThan(mm(heightMm - 15));
      expect(at(/Harbour/u)?.bottom).toBeLessThan(mm(heightMm) * 0.35);
      expect(at(/Clinic/u)?.right).toBeLessThan(mm(widthMm) * 0.5);
    }
  });
});

/** A clinic's own typefaces: what prints with them, what is said without them. */
import { cpSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { PDFDict, PDFDocument, PDFHexString, PDFName, PDFString } from "@cantoo/pdf-lib";
import { expect, test } from "vitest";
import { renderPdf } from "../../src/page/pdf.js";
import { readTypefaces } from "../../src/page/typefaces.js";
import { unprintable } from "../../src/page/unprintable.js";
import { letterOf, pagesOf } from "./read-back.js";

const THAI =
  "\u0e1c\u0e21\u0e23\u0e48\u0e27\u0e07\u0e21\u0e32\u0e2a\u0e32\u0e21\u0e40\u0e14\u0e37\u0e2d\u0e19";
const HINDI = "\u0939\u093f\u0928\u094d\u0926\u0940 \u092e\u0947\u0902 \u0932\u093f\u0916\u093e";

const folder = mkdtempSync(join(tmpdir(), "faces-"));
for (const [name, from] of [
  ["NotoSansThai-Regular.ttf", "noto-sans-thai/400Regular/NotoSansThai_400Regular.ttf"],
  ["NotoSansThai-Bold.ttf", "noto-sans-thai/700Bold/NotoSansThai_700Bold.ttf"],
  ["NotoSansDevanagari.ttf", "noto-sans-devanagari/400Regular/NotoSansDevanagari_400Regular.ttf"],
] as const)
  cpSync(join("node_modules/@expo-google-fonts", from), join(folder, name));

const faces = readTypefaces(folder).value;

test("the cuts of a folder are told apart by their names", () => {
  const { "Noto Sans Thai": thai, "Noto Sans Devanagari": hindi } = faces.table;
  expect([thai?.normal, thai?.bold, thai?.italics]).toEqual(
    ["NotoSansThai-Regular.ttf", "NotoSansThai-Bold.ttf", "NotoSansThai-Regular.ttf"].map((n) =>
      join(folder, n),
    ),
  );
  expect(hindi?.bold).toBe(join(folder, "NotoSansDevanagari.ttf"));
});

test("what cannot be printed is told with its place and what to add", () => {
  expect(unprintable("plain, \u0141\u00f3d\u017a, \u05e9\u05dc\u05d5\u05dd, \u2265 3")).toEqual([]);
  expect(unprintable(`first\nand \u0939\u093f \u0939\u093f`)).toEqual([
    {
      character: "\u0939\u093f",
      codes: "U+0939 U+093F",
      line: 2,
      column: 5,
      add: 'Put a typeface for Devanagari (such as npm @expo-google-fonts/noto-sans-devanagari) into the folder that "fonts:" of the clinic file names, or write it in other letters.',
    },
  ]);
  expect(unprintable("\u{1f642}")[0]?.add).toContain("for emoji");
  expect(unprintable("\u{12000}")[0]?.add).toContain("Put a typeface that has it into");
  expect(unprintable(`${THAI} ${HINDI}`, faces)).toEqual([]);
});

test.each([
  ["Thai", THAI],
  ["Hindi", HINDI],
])("%s prints with its typeface and is refused without", async (_, words) => {
  const letter = letterOf(`<p>Reason: ${words}. 34 years.</p>`);
  const without = await renderPdf(letter);
  expect(without.problems.map(({ id }) => id)).toContain("no-glyph");
  expect(without.value === undefined).toBe(true);
  const withFonts = await renderPdf({ ...letter, fonts: folder });
  expect(withFonts.problems).toEqual([]);
  // And what is set later without them is as before.
  expect((await renderPdf(letter)).value === undefined).toBe(true);
});

test("the words of a script whose signs change places are told in reading order", async () => {
  const { value } = await renderPdf(letterOf(`<p>${HINDI} now</p>`, { fonts: folder }));
  const document = await PDFDocument.load(value?.bytes ?? new Uint8Array(), { updateMetadata: false });
  const spoken = document.context.enumerateIndirectObjects().flatMap(([, object]) => {
    const actual = object instanceof PDFDict ? object.get(PDFName.of("ActualText")) : undefined;
    return actual instanceof PDFHexString || actual instanceof PDFString ? [actual.decodeText()] : [];
  });
  expect(spoken).toEqual([HINDI]);
});

test("Thai breaks between words, of which a line has several", async () => {
  const [page] = await pagesOf(letterOf(`<p>${THAI.repeat(20)}</p>`, { fonts: folder }));
  const lines = new Map<number, number>();
  for (const { baseMm, size } of page?.items ?? [])
    if (size > 11) lines.set(Math.round(baseMm), (lines.get(Math.round(baseMm)) ?? 0) + 1);
  expect(lines.size).toBeGreaterThan(2);
  expect(lines.size).toBeLessThan(8);
});

test("a folder that is missing, empty or holds no typeface is told", () => {
  expect(readTypefaces(join(folder, "none")).problems.map(({ id }) => id)).toEqual(["typeface-missing"]);
  const empty = mkdtempSync(join(tmpdir(), "faces-"));
  expect(readTypefaces(empty).problems[0]?.message).toContain("holds no TTF or OTF file");
  writeFileSync(join(empty, "broken.ttf"), "no typeface");
  expect(readTypefaces(empty).problems).toMatchObject([{ id: "typeface-broken", found: "broken.ttf" }]);
});

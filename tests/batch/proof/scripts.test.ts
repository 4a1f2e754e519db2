/** Proofing letters in scripts of a clinic's own typefaces: what is printed is found again, and what is missing is missed. */
import { cpSync, mkdtempSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { compareWords, countMoved, letterWords } from "../../../src/batch/proof/letter-words.js";
import { readPdf, textOf } from "../../../src/batch/proof/read-pdf.js";
import { spelled } from "../../../src/batch/token-text.js";
import { renderPdf } from "../../../src/page/pdf.js";
import { letterOf } from "../../page/read-back.js";

const folder = mkdtempSync(join(tmpdir(), "faces-"));
for (const script of ["devanagari", "thai"]) {
  const name = `NotoSans${script.charAt(0).toUpperCase()}${script.slice(1)}_400Regular.ttf`;
  cpSync(
    join("node_modules/@expo-google-fonts", `noto-sans-${script}`, "400Regular", name),
    join(folder, name),
  );
}

/** Vowels that stand before the letter they follow, a conjunct, and marks above. */
const HINDI = "\u0939\u093f\u0928\u094d\u0926\u0940 \u092e\u0947\u0902 \u0932\u093f\u0916\u093e";
const THAI = "\u0e1c\u0e21\u0e23\u0e48\u0e27\u0e07";

test.each([
  ["Hindi", HINDI],
  ["Thai", THAI],
])("%s is read back as it was written", async (_, words) => {
  const letter = letterOf(`<p>Reason: ${words}, 34 years.</p>`, { fonts: folder });
  const { value, problems } = await renderPdf(letter);
  expect(problems).toEqual([]);
  const pages = await readPdf(value?.bytes ?? new Uint8Array());
  const printed = spelled(textOf(pages?.[0]?.runs ?? []));
  const expected = letterWords(letter);
  expect(countMoved(expected, printed)).toBe(0);
  expect(compareWords(expected, printed.words).missing).toEqual([]);
  const other = letterWords(letterOf(`<p>Reason: ${words.slice(1)}, 34 years.</p>`));
  expect(countMoved(other, printed)).toBe(1);
});

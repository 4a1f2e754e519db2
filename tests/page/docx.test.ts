/** The editable letter as LibreOffice shows it, with `WHORL_RUNS=1`. Skipped, with a word, where `soffice` is missing. */
import { execFileSync, spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import JSZip from "jszip";
import { expect, test } from "vitest";
import type { Letter } from "../../src/letter/document.js";
import { renderDocx } from "../../src/page/docx.js";
import { wordsOf } from "../../src/page/text.js";
import { LONG } from "../runs.js";
import { letterOf, type ReadPage, readBack } from "./read-back.js";
import { REFERRAL } from "./sample-letter.js";
import { plainJpeg } from "./sample-photos.js";

const isHere = LONG && spawnSync("soffice", ["--version"], { stdio: "ignore" }).status === 0;
if (LONG && !isHere) console.log("skipped: the editable letter is not looked at, since soffice is missing");
const shown = test.skipIf(!isHere);

async function inOffice(letter: Letter): Promise<readonly ReadPage[]> {
  const { value, problems } = await renderDocx(letter);
  if (!value) throw new Error(JSON.stringify(problems));
  const folder = mkdtempSync(join(tmpdir(), "docx-"));
  writeFileSync(join(folder, "letter.docx"), value);
  const profile = `-env:UserInstallation=file://${join(folder, "profile")}`;
  execFileSync(
    "soffice",
    [profile, "--headless", "--convert-to", "pdf", "--outdir", folder, join(folder, "letter.docx")],
    { stdio: "ignore", timeout: 280_000 },
  );
  return readBack(new Uint8Array(readFileSync(join(folder, "letter.pdf"))));
}

shown(
  "a picture takes all its height",
  async () => {
    const photos = { scalp: plainJpeg(300, 300) };
    const figure = '<figure><img src="photo:scalp" alt="A scalp" width="220"></figure>';
    const [page] = await inOffice(letterOf(`<p>Before</p>${figure}<p>After</p>`, { photos }));
    const at = (word: string) => page?.items.find(({ text }) => text.includes(word))?.baseMm ?? Number.NaN;
    expect(at("After") - at("Before")).toBeGreaterThan((220 * 25.4) / 72);
    expect(at("After") - at("Before")).toBeLessThan(((220 + 60) * 25.4) / 72);
  },
  120_000,
);

shown(
  "every word of the letter is there, headings of narrow columns whole, the foot in one size",
  async () => {
    const pages = await inOffice(REFERRAL);
    const text = pages.map((page) => page.text).join(" ");
    for (const word of wordsOf(REFERRAL).split(/\s+/)) expect(text, word).toContain(word);
    const narrow = await inOffice(
      letterOf(
        `<table data-widths="3 47 50"><thead><tr><th scope="col">No.</th><th scope="col">Site</th><th scope="col">Seen</th></tr></thead><tbody><tr><td>1</td><td>Nape</td><td>dots</td></tr></tbody></table>`,
      ),
    );
    expect(narrow[0]?.text).toContain("No. Site Seen");
    const foot = pages[0]?.items.filter((item) => item.baseMm > (pages[0]?.heightMm ?? 0) - 25) ?? [];
    expect(new Set(foot.map((item) => Math.round(item.size * 2))).size).toBe(1);
  },
  240_000,
);

test("paragraphs have a default style", async () => {
  const { value } = await renderDocx(REFERRAL);
  const styles = await (await JSZip.loadAsync(value ?? new Uint8Array()))
    .file("word/styles.xml")
    ?.async("string");
  expect(styles?.match(/<w:style [^>]*w:default="1"[^>]*w:styleId="Normal"/g)).toHaveLength(1);
});

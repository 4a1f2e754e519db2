/** What a reader of each example's paper must find, read back from the PDF; and the words of every page, held to a copy. */
import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import type { MadeDocument } from "../../src/batch/make.js";
import { loadPack } from "../../src/letter/pack.js";
import { root } from "../house/source-files.js";
import { type ReadPage, readBack } from "../page/read-back.js";
import { some } from "../runs.js";
import { examined, exampleFiles, knowledge, made, nameOf, textOf } from "./all-examples.js";

/** Spaces are not told apart: the engine sets hard spaces and breaks lines. */
const plain = (text: string) => text.replace(/[\s\u00a0]+/gu, " ");
const bare = (text: string) => text.replace(/[\s\u00a0]+/gu, "").toLowerCase();
/** Words of the pages without list marks, which the reader puts after the first line of their item. */
const wordsOf = (pages: readonly ReadPage[]) =>
  bare(
    pages
      .flatMap((p) => p.items.filter((i) => !/^(?:•|\d+\.)$/u.test(i.text.trim())).map((i) => i.text))
      .join(""),
  );
const accept = process.env.ACCEPT === "1";
/** Pages a reader is ready to turn: two of a letter, two to three of a handout, twice that in large print. */
const MOST_PAGES: Record<string, number> = {
  "referral-letter": 3,
  handout: 3,
  notice: 1,
  "progress-sheet": 4,
  "reasoning-sheet": 6,
};

function keepOrCompare(file: string, name: string, pages: readonly ReadPage[]) {
  const path = join(root, "tests", "examples", "pages", `${file.replace("/", "_")}.${name}.txt`);
  const text = `${pages.map((p, i) => `--- page ${i + 1}\n${wrapped(plain(p.text))}`).join("\n")}\n`;
  if (accept || !existsSync(path)) {
    if (!accept) throw new Error(`${path} is missing: run npm run accept and read the difference`);
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(path, text);
  }
  expect(text).toBe(textOf(path));
}

function wrapped(text: string): string {
  return text.replace(/(.{90}\S*) /gu, "$1\n");
}

const tried = accept ? exampleFiles : some(exampleFiles, 1 / 3);

describe.each(tried.map((f) => [nameOf(f), f]))("%s", (name, file) => {
  const { visit, interpretation } = examined(file);
  const words = loadPack("en").pack?.words;
  const isShort = visit.sites.length <= 3 && visit.sites.every((s) => s.fields.length === 0);
  const isBare = isShort && visit.sites.every((s) => s.photos.length === 0 && s.diametersUm.length === 0);
  let both: Promise<readonly { document: MadeDocument; pages: readonly ReadPage[] }[]> | undefined;
  /** Made and read back once for all that is asked of them. */
  const letters = () => {
    both ??= made(file, ["referral-letter", "handout"]).then((all) =>
      Promise.all(all.map(async (document) => ({ document, pages: await readBack(document.bytes) }))),
    );
    return both;
  };

  it("makes a letter and a handout that say what was recorded", async () => {
    const documents = await letters();
    expect(documents.map((d) => d.document.kind)).toContain("handout");
    for (const { document, pages } of documents) {
      const all = wordsOf(pages);
      expect(pages.length).toBe(document.pages);
      // No last page is for a few lines.
      const last = pages.at(-1);
      const lowest = Math.max(
        ...(last?.items ?? []).flatMap((i) => (i.baseMm < last!.heightMm - 26 ? [i.baseMm] : [])),
      );
      expect(lowest, "the last page holds a quarter of a page").toBeGreaterThan((last?.heightMm ?? 0) / 4);
      expect(pages.length).toBeLessThanOrEqual(
        (MOST_PAGES[document.kind] ?? 0) * (document.letter.typeSize === "large" ? 2 : 1),
      );
      for (const [i, page] of pages.entries()) {
        expect(page.text, "identifiers on every page").toContain(visit.patient.id);
        // As printed, maps and drawings included, however they were scaled.
        expect(Math.min(...page.items.map(({ size }) => size)), "type in points").toBeGreaterThanOrEqual(8);
        expect(page.text).toContain(visit.patient.name.family);
        expect(plain(page.text)).toContain(`Page ${i + 1} of ${pages.length}`);
        expect(page.text.includes("DRAFT")).toBe(visit.status === "draft");
        expect(page.text.length, "no page all but empty").toBeGreaterThan(250);
      }
      if (document.kind === "notice") {
        for (const impression of visit.impression)
          expect(all).not.toContain(bare(knowledge.disorders[impression.disorder]?.term ?? "?"));
        continue;
      }
      const reader = document.kind === "handout" ? "patient" : "doctor";
      for (const caution of interpretation.cautions) {
        const text = caution[reader];
        const isClosed = interpretation.mustNotMiss.some((m) => m.caution === caution.id && m.closedBy);
        if (text && !(reader === "doctor" && isClosed)) expect(all).toContain(bare(text));
      }
      for (const line of visit.plan) expect(all).toContain(bare(line.action.replace(/\.$/u, "")));
      if (document.kind !== "referral-letter") continue;
      for (const impression of visit.impression) {
        expect(all).toContain(bare(knowledge.disorders[impression.disorder]?.term ?? "?"));
        expect(all).toContain(bare(words?.certainty[impression.certainty] ?? "?"));
      }
      for (const site of visit.sites) {
        for (const f of site.findings)
          expect(all).toContain(bare(knowledge.findings[f.finding]?.term ?? "?"));
      }
      expect(all).toContain(bare(document.recipient?.name ?? "?"));
    }
    for (const { document, pages } of documents)
      keepOrCompare(name, document.name.replace(`${visit.id}-`, "").replace(".pdf", ""), pages);
  });

  // A letter on up to three sites without counts or photos is one page.
  it.runIf(isBare).each(["en", "de", "es"])("makes a letter of one page in %s", async (language) => {
    for (const { name: letter, kind, pages } of await made(file, ["referral-letter"], language))
      if (kind === "referral-letter") expect(pages, letter).toBe(1);
  });

  it("keeps the engine's view out of both", async () => {
    const leading = interpretation.disorders[0];
    const recorded = new Set(visit.impression.map((i) => i.disorder));
    for (const { pages } of await letters()) {
      const all = plain(pages.map((p) => p.text).join(" ")).toLowerCase();
      for (const word of ["strongly supported", "share of draws", "leads in", "bits expected"])
        expect(all).not.toContain(word);
      if (leading && !recorded.has(leading.id)) {
        expect(all).not.toContain((knowledge.disorders[leading.id]?.term ?? "?").toLowerCase());
      }
    }
  });
});

/** What leaves the desk for another program or reader: the editable letter, FHIR, a locked PDF, one file for the printer. */
import { appendFileSync } from "node:fs";
import { join } from "node:path";
import JSZip from "jszip";
import { PDFParse } from "pdf-parse";
import { afterAll, beforeAll, expect, it } from "vitest";
import { ClinicFiles } from "../../src/clinic-folder/clinic-file.js";
import { openDesk } from "../../src/desk/desk.js";
import { HttpError } from "../../src/desk/http-error.js";
import type { VisitState } from "../../src/desk/messages.js";
import { type Routes, routesOf } from "../../src/desk/routes.js";
import { copyOfExamples, knowledge, TODAY } from "./open-desk.js";

const copy = copyOfExamples();
let routes: Routes;
beforeAll(() => {
  const clinics = new ClinicFiles(copy.clinic);
  routes = routesOf(openDesk({ folder: copy.folder, knowledge: knowledge(), clinics, today: () => TODAY }));
});
afterAll(() => copy.remove());

const ask = async (route: string, body: object) => (await routes.post[route]?.({ ...body })) as VisitState;
const file = async (route: string, body: object) => {
  const given = await routes.files[route]?.({ ...body });
  if (!given) throw new Error(`no ${route}`);
  return given;
};

async function readPdf(bytes: Uint8Array, password?: string): Promise<{ pages: number; text: string }> {
  const pdf = new PDFParse({ data: Uint8Array.from(bytes), ...(password ? { password } : {}) });
  try {
    const { text, total } = await pdf.getText();
    return { pages: total, text: text.replace(/\s+/gu, " ") };
  } finally {
    await pdf.destroy();
  }
}

const FIRST = "TS-40417/2026-06-04.yaml";

it("gives the letter to edit and the visit as FHIR, of the text that was asked for and no other", async () => {
  const state = await ask("open", { file: FIRST, pane: "letter" });
  const docx = await file("export", { file: FIRST, base: state.hash, as: "docx" });
  expect(docx.name).toMatch(/referral-letter\.docx$/u);
  const xml = await (await JSZip.loadAsync(docx.bytes)).file("word/document.xml")?.async("string");
  expect(xml).toContain("Solheim-Adeyemi");
  const fhir = await file("export", { file: FIRST, base: state.hash, as: "fhir" });
  const bundle = JSON.parse(new TextDecoder().decode(fhir.bytes)) as { resourceType: string; type: string };
  expect(bundle).toMatchObject({ resourceType: "Bundle", type: "document" });
  await expect(file("export", { file: FIRST, base: "another text", as: "docx" })).rejects.toThrow();
});

it("locks a document that was made: it opens with the password and not without", async () => {
  const { made } = await ask("make", { file: FIRST, pane: "letter" });
  const link = made[0]?.link ?? "";
  const given = await file("locked", { file: FIRST, link, password: "ferry bell 41" });
  expect(given.name).toMatch(/-locked\.pdf$/u);
  await expect(readPdf(given.bytes)).rejects.toThrow(/password/iu);
  expect((await readPdf(given.bytes, "ferry bell 41")).text).toContain("Solheim-Adeyemi");
  await expect(file("locked", { file: FIRST, link, password: "short" })).rejects.toThrow(/at least 8/u);
});

it("joins the documents of several visits, nobody's beginning on another's sheet, and none that is out of date", async () => {
  const second = "TS-40417/2026-03-12.yaml";
  await ask("make", { file: FIRST, pane: "letter" });
  await ask("make", { file: second, pane: "letter" });
  const single = await file("queue", { files: [FIRST] });
  const both = await file("queue", { files: [FIRST, second] });
  const [one, two] = [await readPdf(single.bytes), await readPdf(both.bytes)];
  expect(one.pages % 2).toBe(0);
  expect(two.pages % 2).toBe(0);
  expect(two.pages).toBeGreaterThan(one.pages);
  expect(two.text.startsWith(one.text.slice(0, 400))).toBe(true);
  appendFileSync(join(copy.folder, second), "\n# a word more\n");
  await expect(file("queue", { files: [FIRST, second] })).rejects.toThrow(HttpError);
});

/** What leaves the desk for another program or reader: the editable letter, FHIR, a locked PDF, one file for the printer. */
import { appendFileSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import JSZip from "jszip";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ClinicFiles } from "../../src/clinic-folder/clinic-file.js";
import { openDesk } from "../../src/desk/desk.js";
import { HttpError } from "../../src/desk/http-error.js";
import type { LeftDocument, VisitState } from "../../src/desk/messages.js";
import { type Routes, routesOf } from "../../src/desk/routes.js";
import { Changed } from "../../src/desk/session.js";
import { beginRegister } from "../../src/register/append.js";
import { copyOfExamples, knowledge, TODAY } from "./open-desk.js";
import { readPdf } from "./read-pdf.js";

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

const FIRST = "TS-40417/2026-06-04.yaml";

it("gives the letter to edit and the visit as FHIR, of the text that was asked for and no other", async () => {
  const state = await ask("open", { file: FIRST, pane: "letter" });
  const docx = await file("export", { file: FIRST, base: state.hash, as: "docx", reader: 0 });
  expect(docx.name).toMatch(/referral-letter\.docx$/u);
  const xml = await (await JSZip.loadAsync(docx.bytes)).file("word/document.xml")?.async("string");
  expect(xml).toContain("Solheim-Adeyemi");
  const fhir = await file("export", { file: FIRST, base: state.hash, as: "fhir", reader: 0 });
  const bundle = JSON.parse(new TextDecoder().decode(fhir.bytes)) as { resourceType: string; type: string };
  expect(bundle).toMatchObject({ resourceType: "Bundle", type: "document" });
  await expect(file("export", { file: FIRST, base: "another text", as: "docx", reader: 0 })).rejects.toThrow(
    Changed,
  );
});

const TWO_READERS = "TS-41520/2026-10-27.yaml";

it("shows and gives the letter to each of its readers, the same that is made for them", async () => {
  const first = await ask("open", { file: TWO_READERS, pane: "letter" });
  expect(first.sheet?.readers).toHaveLength(2);
  expect(first.sheet?.reader).toBe(0);
  const second = await ask("open", { file: TWO_READERS, pane: "letter", reader: 1 });
  expect(second.sheet?.reader).toBe(1);
  expect(second.sheet?.key).not.toBe(first.sheet?.key);
  const { made } = await ask("make", { file: TWO_READERS, pane: "letter" });
  const letters = made.filter(({ kind }) => kind !== "handout");
  expect(letters).toHaveLength(2);
  for (const [reader, { reader: name, link }] of letters.entries()) {
    expect(first.sheet?.readers[reader]).toContain(name);
    const shown = await routes.sheet({ file: TWO_READERS, pane: "letter", reader });
    expect(Buffer.from(shown).equals(routes.document(/\/document\/([^/]+)/u.exec(link)?.[1] ?? ""))).toBe(
      true,
    );
    const docx = await file("export", { file: TWO_READERS, base: first.hash, as: "docx", reader });
    expect(docx.name).toMatch(new RegExp(`-${reader + 1}\\.docx$`, "u"));
    const xml = (await (await JSZip.loadAsync(docx.bytes)).file("word/document.xml")?.async("string")) ?? "";
    expect(xml.replace(/<[^>]+>/gu, " ")).toContain(name);
  }
  // A reader who was taken off the list leaves the first one's letter on show.
  const third = await ask("open", { file: TWO_READERS, pane: "letter", reader: 7 });
  expect(third.sheet).toEqual(first.sheet);
});

describe("an e-mail draft", () => {
  const PASSWORD = "ferry bell 41";
  const OTHER = "TS-40417/2026-03-12.yaml";
  const path = join(copy.folder, OTHER);
  const text = readFileSync(path, "utf8");
  const draft = async (more: object = {}) => {
    const { hash } = await ask("open", { file: OTHER, pane: "letter" });
    return file("draft", { file: OTHER, base: hash, reader: 0, password: PASSWORD, again: false, ...more });
  };
  const mail = "    name: Dr Ilse Brandt\n    email: brandt@quayside.example";

  it("carries the locked letter to its reader, and nothing clinical in its own words", async () => {
    writeFileSync(path, text.replace("    name: Dr Ilse Brandt", mail));
    const { name, bytes } = await draft();
    expect(name).toMatch(/\.eml$/u);
    const eml = Buffer.from(bytes).toString("utf8");
    expect(eml).toMatch(/^To: Dr Ilse Brandt <brandt@quayside\.example>/mu);
    expect(eml).toMatch(/^X-Unsent: 1/mu);
    expect(eml).not.toMatch(/Solheim|alopecia|areata/iu);
    const pdf = Buffer.from(/\r\n\r\n(JVBER[\w+/=\r\n]+)/u.exec(eml)?.[1] ?? "", "base64");
    await expect(readPdf(pdf)).rejects.toThrow(/password/iu);
    expect((await readPdf(pdf, PASSWORD)).text).toContain("Solheim-Adeyemi");
    writeFileSync(path, text);
  });

  it("is refused without an address, a signature or a password that holds", async () => {
    await expect(draft()).rejects.toThrow("no e-mail to this reader");
    writeFileSync(path, text.replace("    name: Dr Ilse Brandt", mail));
    await expect(draft({ password: "short" })).rejects.toThrow(/at least 8/u);
    await expect(draft({ reader: 3 })).rejects.toThrow("no letter to this reader");
    writeFileSync(
      path,
      text.replace("    name: Dr Ilse Brandt", mail).replace("status: signed", "status: draft"),
    );
    await expect(draft()).rejects.toThrow("cannot be sent");
    writeFileSync(path, text);
  });
});

it("takes a person's word that documents have left, once, and only while they wait", async () => {
  const visit = "TS-41520/2026-10-27.yaml";
  const left = async () =>
    (await routes.post.left?.({ file: visit })) as { documents: readonly LeftDocument[] };
  const mark = async (more: object) =>
    routes.post["mark-left"]?.({ file: visit, how: "post", on: TODAY, ...more });
  expect((await left()).documents).toEqual([]);
  await expect(mark({ ids: ["0"], by: "rafiq-oyelaran" })).rejects.toThrow("no register yet");
  beginRegister(dirname(copy.clinic));
  await ask("make", { file: visit, pane: "letter" });
  const { documents } = await left();
  expect(documents.map(({ kind, state }) => `${kind} ${state}`).sort()).toEqual([
    "handout waiting",
    "referral-letter waiting",
    "referral-letter waiting",
  ]);
  const [first] = documents;
  const ids = [first?.id ?? ""];
  await expect(mark({ ids, by: "somebody" })).rejects.toThrow("Choose who says so");
  await expect(mark({ ids, by: "rafiq-oyelaran", on: "2999-01-01" })).rejects.toThrow("still to come");
  await mark({ ids, by: "rafiq-oyelaran" });
  const now = (await left()).documents;
  expect(now.find(({ id }) => id === ids[0])).toMatchObject({
    state: "sent",
    left: [{ on: TODAY, how: "post", by: "rafiq-oyelaran" }],
  });
  expect(now.filter(({ state }) => state === "waiting")).toHaveLength(2);
  await expect(mark({ ids, by: "rafiq-oyelaran" })).rejects.toThrow("Look at the list again");
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

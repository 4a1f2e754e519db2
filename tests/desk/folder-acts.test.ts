/** What an assistant does with the folder as a whole: a table read in, a file renamed, put aside and taken back, letters of many printed. */
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { ClinicFiles } from "../../src/clinic-folder/clinic-file.js";
import { openDesk } from "../../src/desk/desk.js";
import { HttpError } from "../../src/desk/http-error.js";
import type { TableTried, VisitAside, VisitsFound } from "../../src/desk/list-messages.js";
import type { VisitState } from "../../src/desk/messages.js";
import { type Routes, routesOf } from "../../src/desk/routes.js";
import { beginRegister } from "../../src/register/append.js";
import { browser, browserBefore } from "./open-before.js";
import { copyOfExamples, deskOnExamples, knowledge, openPage, openVisit, TODAY } from "./open-desk.js";
import { readPdf } from "./read-pdf.js";

const copy = copyOfExamples(["TS-40417", "TS-41388"]);
let routes: Routes;
browserBefore();
beforeAll(() => {
  const clinics = new ClinicFiles(copy.clinic);
  routes = routesOf(openDesk({ folder: copy.folder, knowledge: knowledge(), clinics, today: () => TODAY }));
});
afterAll(() => copy.remove());

const post = async (route: string, body: object): Promise<unknown> => routes.post[route]?.({ ...body });
const open = async (file: string) => (await post("open", { file, pane: "letter" })) as VisitState;
const listed = async () => {
  const found = (await post("list", { find: "", most: 60, now: true })) as VisitsFound;
  return [...found.ofToday, ...found.visits].map(({ file }) => file);
};
const aside = async () => (await routes.get.aside?.()) as { readonly visits: readonly VisitAside[] };
const refusal = async (act: Promise<unknown>): Promise<HttpError> => {
  const error = await act.then(
    () => undefined,
    (thrown: unknown) => thrown,
  );
  if (error instanceof HttpError) return error;
  throw new Error(`not refused: ${String(error)}`);
};

const DRAFT = "TS-41388/2026-09-22.yaml";
const SIGNED = "TS-40417/2026-03-12.yaml";
/** The example as an unsigned one, so that it may be moved. */
function asDraft(file: string): void {
  const path = join(copy.folder, file);
  const text = readFileSync(path, "utf8");
  writeFileSync(
    path,
    text.replace(/status: signed/u, "status: draft").replace(/^signed:.*\n(?: .*\n)*/mu, ""),
  );
}

it("renames a draft in its folder, with its documents, and never onto another file", async () => {
  asDraft(DRAFT);
  const { hash } = await open(DRAFT);
  await post("make", { file: DRAFT, pane: "letter" });
  const before = readFileSync(join(copy.folder, DRAFT), "utf8");
  writeFileSync(join(copy.folder, "TS-41388", "taken.yaml"), "something: else\n");
  const taken = await refusal(post("rename", { file: DRAFT, base: hash, to: "taken" }));
  expect([taken.status, taken.message]).toEqual([409, "There is a file taken.yaml already."]);
  expect(readFileSync(join(copy.folder, "TS-41388", "taken.yaml"), "utf8")).toBe("something: else\n");
  for (const name of ["../elsewhere", ".hidden", "clinic.yaml", "a/b"])
    expect(
      (await refusal(post("rename", { file: DRAFT, base: hash, to: name }))).status,
      name,
    ).toBeGreaterThan(399);
  expect(await post("rename", { file: DRAFT, base: hash, to: "first-visit" })).toEqual({
    file: "TS-41388/first-visit.yaml",
  });
  expect(readFileSync(join(copy.folder, "TS-41388", "first-visit.yaml"), "utf8")).toBe(before);
  expect(await listed()).toContain("TS-41388/first-visit.yaml");
  expect(await listed()).not.toContain(DRAFT);
  const renamed = await open("TS-41388/first-visit.yaml");
  expect(renamed.made.map(({ current }) => current)).toEqual([true, true]);
  // What comes to stand under the old name is no step of this visit.
  writeFileSync(join(copy.folder, DRAFT), "format: 1\npatient: { id: TS-7 }\n");
  expect((await open(DRAFT)).canUndo).toBe(false);
  await post("put-aside", { file: DRAFT, base: (await open(DRAFT)).hash });
  await post("rename", { file: renamed.file, base: renamed.hash, to: "2026-09-22.yaml" });
});

it("puts a draft aside and takes it back byte for byte, and keeps what was signed or given out", async () => {
  const { hash } = await open(DRAFT);
  const before = readFileSync(join(copy.folder, DRAFT), "utf8");
  await post("put-aside", { file: DRAFT, base: hash });
  expect(existsSync(join(copy.folder, DRAFT))).toBe(false);
  expect(await listed()).not.toContain(DRAFT);
  // The second of that name does not take the place of the first.
  const { visits } = await aside();
  expect(visits.map(({ lies, file, patient }) => [lies, file, patient])).toEqual([
    [`1/${DRAFT}`, DRAFT, ""],
    [`2/${DRAFT}`, DRAFT, "Casper Thorne-Idowu"],
  ]);
  for (const lies of [`3/${DRAFT}`, DRAFT, `2/../../${DRAFT}`, `../../${DRAFT}`])
    expect((await refusal(post("take-back", { lies }))).status, lies).toBeGreaterThan(399);
  expect(await post("take-back", { lies: `2/${DRAFT}` })).toEqual({ file: DRAFT });
  expect(readFileSync(join(copy.folder, DRAFT), "utf8")).toBe(before);
  const there = await refusal(post("take-back", { lies: `1/${DRAFT}` }));
  expect(there.message).toBe("There is a file 2026-09-22.yaml already.");

  const signed = await open(SIGNED);
  expect(signed.signed).toBe(true);
  const kept = await refusal(post("put-aside", { file: SIGNED, base: signed.hash }));
  expect(kept.message).toBe("A signed visit stays where it is.");
  beginRegister(join(copy.folder, ".."));
  await post("make", { file: SIGNED, pane: "letter" });
  const again = (await post("reopen", {
    file: SIGNED,
    base: signed.hash,
    reason: "A finding was added.",
    pane: "letter",
  })) as VisitState;
  const known = await refusal(post("rename", { file: SIGNED, base: again.hash, to: "new" }));
  expect(known.message).toBe("The register knows this visit: it stays where it is.");
});

const TABLE = `Visit number;Date;Seen by;Reason;Patient number;Given name;Family name;Born;Sex;Region;Yellow dots
TS-2026-0801;24.11.2026;anneli-thorsby;Hair loss;TS-90001;Oda;Quillfeather;14.02.1980;female;vertex;many
TS-2026-0802;24.11.2026;anneli-thorsby;Itch;TS-90002;Ivo;Marrowdale;03.09.1971;male;vertex;none
`;
const table = (text: string, mapping?: string) => ({
  name: "export.csv",
  bytes: Buffer.from(text).toString("base64"),
  ...(mapping === undefined ? {} : { mapping }),
});

it("reads a table by a drafted mapping, writes all of it or nothing, and keeps the mapping", async () => {
  const tried = (await post("table-try", table(TABLE))) as TableTried;
  expect(tried.problems.filter(({ severity }) => severity === "error")).toEqual([]);
  expect(tried.visits.map(({ patient, date, isTaken }) => [patient, date, isTaken])).toEqual([
    ["Oda Quillfeather", "2026-11-24", false],
    ["Ivo Marrowdale", "2026-11-24", false],
  ]);
  expect(tried.isReady).toBe(true);
  expect(existsSync(join(copy.folder, "mapping.yaml"))).toBe(false);

  const wrong = table(TABLE.replace("14.02.1980", "31.02.1980"));
  expect(((await post("table-try", wrong)) as TableTried).isReady).toBe(false);
  expect((await refusal(post("table-take", wrong))).status).toBe(422);
  // A number of another patient's visit.
  const number = /^ {2}id: (\S+)/mu.exec(readFileSync(join(copy.folder, SIGNED), "utf8"))?.[1] ?? "";
  const twice = table(TABLE.replace("TS-2026-0801", number));
  expect(((await post("table-try", twice)) as TableTried).isReady).toBe(false);
  expect((await refusal(post("table-take", twice))).status).toBe(422);
  expect(existsSync(join(copy.folder, "TS-90002"))).toBe(false);

  const { files } = (await post("table-take", table(TABLE))) as { readonly files: string[] };
  expect(files).toHaveLength(2);
  expect(await listed()).toEqual(expect.arrayContaining(files));
  expect(readFileSync(join(copy.folder, "mapping.yaml"), "utf8")).toBe(tried.mapping);
  expect((await refusal(post("table-take", table(TABLE)))).status).toBe(422);
  expect(readdirSync(join(copy.folder, "TS-90001"))).toHaveLength(1);
  const first = await open(files[0] ?? "");
  expect(first.written).toMatchObject({ patient: { name: { family: "Quillfeather" } } });
});

it("is all done in the page: letters of several visits, a table, a file put aside and taken back", async () => {
  const desk = await deskOnExamples(["TS-40417", "TS-41388"]);
  const { page, context, complaints } = await openPage(browser, desk);
  // One whose letters cannot be made stays in the queue, with why; the others are printed.
  const path = join(desk.folder, SIGNED);
  writeFileSync(path, desk.read(SIGNED).replace(/^impression:\n(?: .*\n)+/mu, ""));
  for (const day of ["2026-03-12", "2026-06-04"])
    await page.getByRole("button", { name: new RegExp(`^Print letters of .*, ${day}$`, "u") }).click();
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "One file to print" }).click();
  const kept = join(copy.folder, "queue.pdf");
  await (await download).saveAs(kept);
  const { text } = await readPdf(readFileSync(kept));
  expect(text).toContain("Solheim-Adeyemi");
  const queue = page.getByRole("region", { name: /Print queue/u });
  await queue.getByText("with the letters of 1 visit was handed", { exact: false }).waitFor();
  expect(await queue.locator("li").count()).toBe(1);
  expect(await queue.locator("li .error").textContent()).toContain("cannot be made while there are errors");
  expect(existsSync(join(desk.folder, "TS-40417", "letters", "made.json"))).toBe(true);

  await page.getByRole("button", { name: "Visits from a table" }).click();
  const dialog = page.getByRole("dialog");
  const buffer = Buffer.from(TABLE.replace("vertex;many", "crown of all;many"));
  await dialog
    .locator("input[type=file]")
    .setInputFiles({ name: "export.csv", mimeType: "text/csv", buffer });
  await dialog.getByText("2 visits, 1 of them cannot be written.").waitFor();
  await dialog.getByText("The same as text").click();
  const mapping = dialog.getByLabel("What each column is");
  await mapping.fill(
    (await mapping.inputValue()).replace(
      /^ {2}Region: .*$/mu,
      "  Region: { to: site, values: { crown of all: vertex } }",
    ),
  );
  await dialog.getByRole("button", { name: "Read again" }).click();
  await dialog.getByRole("button", { name: "Write all 2 visits" }).click();
  await dialog.getByText("2 visits were written.").waitFor();
  await dialog.getByRole("button", { name: "Done" }).click();
  await page.locator(".cards.all").getByText("Oda Quillfeather").waitFor();

  await openVisit(page, "TS-90001/TS-2026-0801.yaml");
  await page.locator(".file-acts > summary").click();
  await page.getByRole("button", { name: "Put aside", exact: true }).click();
  await page.getByRole("button", { name: "Put this visit aside" }).click();
  await page.getByRole("heading", { name: "Visits", exact: true }).waitFor();
  await page.locator(".cards.all").getByText("Ivo Marrowdale").waitFor();
  expect(await page.getByText("Oda Quillfeather").count()).toBe(0);
  await page.getByRole("button", { name: "Put aside", exact: true }).click();
  await dialog.getByRole("button", { name: "Take back TS-90001/TS-2026-0801.yaml" }).click();
  await dialog.getByText("TS-90001/TS-2026-0801.yaml is in the list again.").waitFor();
  await dialog.getByRole("button", { name: "Done" }).click();
  await openVisit(page, "TS-90001/TS-2026-0801.yaml");
  await page.locator(".file-acts > summary").click();
  await page.getByLabel("Name of the file").fill("first");
  await page.getByRole("button", { name: "Rename" }).click();
  await page.locator(".file-acts", { hasText: "TS-90001/first.yaml" }).waitFor();
  expect(complaints).toEqual([]);
  await context.close();
  await desk.shut();
});

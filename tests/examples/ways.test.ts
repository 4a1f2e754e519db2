/** Every way to a letter gives the same letter: the command, the batch, the exports, the desk and the library. */
import { createHash } from "node:crypto";
import { cpSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { Command } from "commander";
import JSZip from "jszip";
import { describe, expect, it } from "vitest";
import { Jobs } from "../../src/batch/job.js";
import { makeDocuments } from "../../src/batch/make.js";
import { lookAround, prepareFile } from "../../src/batch/prepare.js";
import { compareWords, letterWords } from "../../src/batch/proof/letter-words.js";
import { tokensOf } from "../../src/batch/token-text.js";
import { exportCommand } from "../../src/cli/export.js";
import { letterCommand } from "../../src/cli/letter.js";
import { ClinicFiles } from "../../src/clinic-folder/clinic-file.js";
import { openDesk } from "../../src/desk/desk.js";
import type { VisitState } from "../../src/desk/messages.js";
import { routesOf } from "../../src/desk/routes.js";
import type { Letter } from "../../src/letter/document.js";
import { scratch } from "../batch/command.js";
import { root } from "../house/source-files.js";
import { runs } from "../runs.js";
import { examined, exampleFiles, knowledge, nameOf, ready } from "./all-examples.js";

const KINDS = ["referral-letter", "handout"];
const clinicFile = join(root, "examples", "clinic.yaml");
const today = localToday();
const sha256 = (bytes: Uint8Array) => createHash("sha256").update(bytes).digest("hex");

function localToday(): string {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()]
    .map((n) => String(n).padStart(2, "0"))
    .join("-");
}

/** As the library makes it. */
async function byLibrary(file: string) {
  const { around } = lookAround([file], { knowledge, today });
  const { value, clinic } = prepareFile(file, around);
  if (!value || !clinic) throw new Error(`${file} cannot be made`);
  const { made } = await makeDocuments(value.examined, {
    knowledge,
    clinic,
    documents: KINDS,
    format: "pdf",
    ...(value.change ? { overrides: { change: value.change } } : {}),
  });
  return { made, isFollowUp: value.change !== undefined };
}

async function run(
  command: (program: Command, done: (code: number) => void) => void,
  args: readonly string[],
) {
  const program = new Command().exitOverride();
  let code = -1;
  command(program, (n) => {
    code = n;
  });
  await program.parseAsync(["node", "whorl", ...args]);
  expect(code).toBe(0);
}

const jobs = new Jobs({ documents: KINDS, drafts: true, proof: false, today, people: [] });

async function docxWords(file: string): Promise<string[]> {
  const zip = await JSZip.loadAsync(readFileSync(file));
  const xml = (await zip.file("word/document.xml")?.async("string")) ?? "";
  const text = xml
    .replace(/<w:(?:p|tab|br)[ />]/gu, "\n$&")
    .replace(/<[^>]+>/gu, "")
    .replace(/&(amp|lt|gt|quot|apos);/gu, (_, name: string) => ({ amp: "&", lt: "<", gt: ">" })[name] ?? "'");
  return tokensOf(text);
}

/** Words of the letter that `printed` lacks; words inside drawings are pictures to it. */
function lacking(letter: Letter, printed: readonly string[]): string[] {
  const html = letter.html.replace(/<svg[\s\S]*?<\/svg>/gu, " ");
  return compareWords(letterWords({ ...letter, html }), printed).missing;
}

/**
 * Some with each thing that the ways might treat differently and some without: for the rarest thing not shown yet, the one that
 * shows most besides; the two that show most. All of them with `WHORL_RUNS=1`.
 */
function eachThingOnce(): readonly string[] {
  if (runs(300) >= 300) return exampleFiles;
  const things = new Map(
    exampleFiles.map((file) => {
      const { visit } = examined(file);
      const has = {
        change: ready(file).change !== undefined,
        photos: visit.sites.some((site) => site.photos.length > 0),
        readers: visit.sendTo.length > 1,
        signed: visit.status === "signed",
        largePrint: visit.patient.largePrint,
      };
      return [file, Object.entries(has).map(String)] as const;
    }),
  );
  const open = new Set([...things.values()].flat());
  const chosen: string[] = [];
  const shown = (file: string) => (things.get(file) ?? []).filter((thing) => open.has(thing));
  const having = (thing: string) => exampleFiles.filter((file) => things.get(file)?.includes(thing));
  while (open.size > 0 && chosen.length < 2) {
    const rarest = [...open].map(having).reduce((a, b) => (b.length < a.length ? b : a));
    const best = rarest.reduce((a, b) => (shown(b).length > shown(a).length ? b : a));
    chosen.push(best);
    for (const thing of shown(best)) open.delete(thing);
  }
  return chosen;
}

describe.each(eachThingOnce().map((f) => [nameOf(f), f]))("%s", (_, file) => {
  it("is one letter by every way", async () => {
    const { made, isFollowUp } = await byLibrary(file);
    const prints = made.map((d) => [d.name, sha256(d.bytes)]);
    expect(made.length).toBeGreaterThan(1);
    const first = made[0];
    if (!first) return;
    if (isFollowUp) expect(tokensOf(first.letter.html).join(" ")).toContain("change since");

    const folder = scratch();
    await run(letterCommand, ["letter", file, "--out", folder, "--quiet"]);
    expect(prints.map(([name]) => [name, sha256(readFileSync(join(folder, name ?? "")))])).toEqual(prints);

    const { around } = lookAround([file], { knowledge, today });
    const batch = await jobs.make({ file, beside: around.visits.beside(file), clinicFile, overrides: {} });
    expect(batch.files.map((f) => [f.name, sha256(f.bytes)])).toEqual(prints);

    const fhir = join(folder, "visit.fhir.json");
    await run(exportCommand, ["export", file, "--as", "fhir", "--out", fhir]);
    const attached = readFileSync(fhir, "utf8").matchAll(
      /"contentType": "application\/pdf",[^}]*?"data": "([^"]+)"/gu,
    );
    const addressed = made.filter(({ recipient }) => recipient !== null);
    expect([...attached].map(([, data]) => sha256(Buffer.from(data ?? "", "base64")))).toEqual(
      addressed.map(({ bytes }) => sha256(bytes)),
    );

    for (const kind of KINDS) {
      const docx = join(folder, `${kind}.docx`);
      await run(exportCommand, ["export", file, "--as", "docx", "--document", kind, "--out", docx]);
      const documents = kind === "handout" ? made.filter((d) => d.kind === kind) : addressed;
      expect(documents.length).toBeGreaterThan(0);
      for (const [i, { letter }] of documents.entries()) {
        const file = documents.length === 1 ? docx : docx.replace(".docx", `-${i + 1}.docx`);
        expect(lacking(letter, await docxWords(file))).toEqual([]);
      }
    }

    const copy = join(scratch(), "patients");
    cpSync(dirname(file), copy, { recursive: true });
    const desk = openDesk({
      folder: copy,
      knowledge,
      clinics: new ClinicFiles(clinicFile),
      today: () => today,
    });
    const routes = routesOf(desk);
    const name = file.slice(dirname(file).length + 1);
    const state = (await routes.post.make?.({ file: name, pane: "letter" })) as VisitState;
    const bytes = (link: string) => routes.document(link.split("/")[2] ?? "");
    expect(state.made.map((doc) => [doc.name, sha256(bytes(doc.link))]).sort()).toEqual(prints.toSorted());
  });
});

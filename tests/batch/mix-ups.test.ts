/** Mix-ups of an ordinary day, each planted so that file and manifest agree: only what is printed can tell. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { type MadeDocument, makeDocuments } from "../../src/batch/make.js";
import type { Prepared } from "../../src/batch/prepare.js";
import { PatientIndex } from "../../src/batch/proof/patient-index.js";
import { type Named, scanVisit } from "../../src/clinic-folder/scan.js";
import { some } from "../runs.js";
import { manifestOf, whorl } from "./command.js";
import { generateVisits } from "./generate-visits.js";
import { clinic, faultsOf, knowledge, OTHER, prepared } from "./proof-fixture.js";

const scratch = () => mkdtempSync(join(tmpdir(), "whorl-mix-"));

interface Case {
  readonly visit: Prepared;
  readonly who: Named;
  readonly letters: readonly MadeDocument[];
}

type Change = readonly [from: string | RegExp, to: string];

/** A schoolboy's visit with some of its words changed, examined and made. */
async function visitOf(...changes: readonly Change[]): Promise<Case> {
  let text = readFileSync(OTHER, "utf8");
  for (const [from, to] of changes) {
    const changed = text.replaceAll(typeof from === "string" ? from : new RegExp(from, "gmu"), to);
    if (changed === text) throw new Error(`${from} changes nothing`);
    text = changed;
  }
  const file = join(scratch(), "visit.yaml");
  writeFileSync(file, text);
  const visit = prepared(file);
  const who = scanVisit(file).identity;
  if (!who) throw new Error("the visit names nobody");
  return { visit, who, letters: await documentsOf(visit, ["referral-letter"]) };
}

async function documentsOf(visit: Prepared, documents: readonly string[], language?: string) {
  const { made, problems } = await makeDocuments(visit.examined, {
    knowledge,
    clinic,
    documents,
    format: "pdf",
    ...(language ? { overrides: { language } } : {}),
  });
  if (made.length === 0) throw new Error(problems.map((p) => p.id).join());
  return made;
}

function first<T>(list: readonly T[]): T {
  const [one] = list;
  if (one === undefined) throw new Error("there is none");
  return one;
}

/** Faults when another document's bytes, with its own count of pages, lie under the name of this one. */
function instead(own: Case, document: MadeDocument, other: MadeDocument, people: readonly Named[] = []) {
  const roll = new PatientIndex([own.who, ...people]);
  return faultsOf(own.visit, document, { bytes: other.bytes, pages: other.pages, roll });
}

const NUMBER = ["TS-40782", "TS-40999"] as const;
const VISIT = ["TS-2026-0263", "TS-2026-0777"] as const;
let eskil: Case;
let letter: MadeDocument;
let handout: MadeDocument;

beforeAll(async () => {
  eskil = await visitOf();
  letter = first(eskil.letters);
  handout = first(await documentsOf(eskil.visit, ["handout"]));
});

describe("people who are easily taken for each other", () => {
  it.each<[string, readonly Change[], readonly string[]]>([
    [
      "the same name, another number and birth date",
      [NUMBER, ["2019-01-30", "2016-09-02"]],
      ["other-patient"],
    ],
    ["the same name and birth date, another number", [NUMBER], ["other-patient"]],
    ["twins", [NUMBER, ["Eskil", "Torvald"]], ["other-patient", "patient-not-named"]],
    ["one number, a letter apart in the name", [["Brannagh", "Brannach"]], ["patient-not-named"]],
  ])("%s: the words else the same, and as many pages", async (_, changes, expected) => {
    const other = await visitOf(VISIT, ...changes);
    expect(first(other.letters).pages).toBe(letter.pages);
    expect(await instead(eskil, letter, first(other.letters), [other.who])).toEqual(
      expect.arrayContaining([...expected, "patient-not-named"]),
    );
  });

  it("a twin named in the other's letter", async () => {
    const twin = await visitOf(
      NUMBER,
      VISIT,
      ["Eskil", "Torvald"],
      [/^ {2}reason: .*$/u, "  reason: As Eskil Brannagh."],
    );
    const roll = new PatientIndex([eskil.who, twin.who]);
    expect(await faultsOf(twin.visit, first(twin.letters), { roll })).toEqual(["other-patient"]);
  });

  it("someone who joins the run later and stands in a letter that was good before", async () => {
    const mixed = await visitOf([/^ {2}reason: .*$/u, "  reason: Seen with Torvald Brannagh."]);
    const late = {
      visit: "V2",
      patient: "TS-40999",
      given: "Torvald",
      family: "Brannagh",
      born: "2019-01-30",
    };
    const good = first(mixed.letters);
    expect(await faultsOf(mixed.visit, good, { roll: new PatientIndex([mixed.who]) })).toEqual([]);
    expect(await faultsOf(mixed.visit, good, { roll: new PatientIndex([mixed.who, late]) })).toEqual([
      "other-patient",
    ]);
  });
});

describe("the right patient, the wrong paper", () => {
  it("the letter and the handout of the visit before", async () => {
    const before = await visitOf(["TS-2026-0263", "TS-2026-0101"], ["2026-04-21", "2026-02-17"]);
    const sheet = first(await documentsOf(before.visit, ["handout"]));
    for (const [own, old] of [
      [letter, first(before.letters)],
      [handout, sheet],
    ] as const)
      expect(await instead(eskil, own, old)).toEqual(expect.arrayContaining(["text-added", "text-missing"]));
  });

  it.each<[string, Change, readonly string[]]>([
    ["the impression", ["certainty: probable", "certainty: definite"], ["impression-differs"]],
    ["a word of a finding", ["comma hairs: several", "tulip hairs: several"], []],
    ["an allergy", ["allergies: [none known]", "allergies: [terbinafine]"], []],
    ["the recipient's address", ["40 North Gate", "14 North Gate"], ["address-differs"]],
    ["the recipient", ["Dr Tomos Achterberg", "Dr Ilse Brandt"], ["address-differs"]],
  ])("a letter from before %s was corrected", async (_, change, expected) => {
    const corrected = await visitOf(change);
    expect(await instead(corrected, first(corrected.letters), letter)).toEqual(
      expect.arrayContaining([...expected, "text-added", "text-missing"]),
    );
  });

  it("the copy in the envelope of the doctor written to, and the other way round", async () => {
    const [own, copy] = eskil.letters;
    if (!own || !copy) throw new Error("no copy was made");
    expect(await instead(eskil, own, copy)).toEqual(expect.arrayContaining(["address-differs"]));
    expect(await instead(eskil, copy, own)).toEqual(expect.arrayContaining(["address-differs"]));
  });

  it("letter and handout changed over", async () => {
    expect(await instead(eskil, letter, handout)).toEqual(expect.arrayContaining(["text-missing"]));
    expect(await instead(eskil, handout, letter)).toEqual(expect.arrayContaining(["text-missing"]));
  });

  it.each(some(["de", "es", "en-US"], 1 / 3))("in another language: %s", async (language) => {
    const other = first(await documentsOf(eskil.visit, ["referral-letter"], language));
    expect(await instead(eskil, letter, other)).toEqual(
      expect.arrayContaining(["text-added", "text-missing"]),
    );
  });

  it("a draft passed off as signed, and a signed letter that is a draft again", async () => {
    const draft = await visitOf(["status: signed", "status: draft"]);
    expect(await instead(eskil, letter, first(draft.letters))).toEqual(
      expect.arrayContaining(["draft-mark-wrong"]),
    );
    expect(await instead(draft, first(draft.letters), letter)).toEqual(
      expect.arrayContaining(["draft-mark-missing"]),
    );
  });
});

describe("a page bound in with a tool", () => {
  /** Own pages, with the first or the second one of the other. */
  const spliced = (own: MadeDocument, other: MadeDocument, bound: 1 | 2) => {
    const folder = scratch();
    for (const [name, { bytes }] of [
      ["own.pdf", own],
      ["other.pdf", other],
    ] as const)
      writeFileSync(join(folder, name), bytes);
    const firstTwo = bound === 1 ? ["other.pdf", "1", "own.pdf", "2"] : ["own.pdf", "1", "other.pdf", "2"];
    const pages = [...firstTwo, ...(own.pages > 2 ? ["own.pdf", "3-z"] : [])];
    execFileSync("qpdf", ["--empty", "--pages", ...pages, "--", "mixed.pdf"], { cwd: folder });
    return { ...own, bytes: readFileSync(join(folder, "mixed.pdf")) };
  };

  it("of a namesake with another number", async () => {
    const other = await visitOf(NUMBER, VISIT);
    const mixed = spliced(handout, first(await documentsOf(other.visit, ["handout"])), 2);
    expect(await instead(eskil, handout, mixed, [other.who])).toEqual(
      expect.arrayContaining(["other-patient", "patient-not-named"]),
    );
  });

  it("of the same patient's handout from before a correction", async () => {
    const corrected = await visitOf(["Ask a vet to look at the kitten", "Ask a vet to look at both kittens"]);
    const own = first(await documentsOf(corrected.visit, ["handout"]));
    const told = [
      ...(await instead(corrected, own, spliced(own, handout, 1))),
      ...(await instead(corrected, own, spliced(own, handout, 2))),
    ];
    expect(told).toContain("text-missing");
  });
});

describe("in the folder of a batch", () => {
  const edit = (file: string, from: string | RegExp, to: string) => {
    const text = readFileSync(file, "utf8");
    const changed = text.replace(from, to);
    if (changed === text) throw new Error(`${String(from)} changes nothing`);
    writeFileSync(file, changed);
  };
  const BATCH = ["--document", "referral-letter", "--jobs", "1"];

  it("letters of visits that were withdrawn, corrected, sent elsewhere or reopened since", async () => {
    const { folder, files } = generateVisits(join(scratch(), "visits"), 5);
    const [kept = "", gone = "", corrected = "", moved = "", reopened = ""] = files.toReversed();
    const out = join(scratch(), "letters");
    expect(whorl("batch", folder, "--out", out, ...BATCH).code).toBe(0);
    rmSync(gone);
    edit(corrected, /certainty: \w+/u, "certainty: definite");
    edit(moved, /address: \[\w+ (?:Practice|Surgery), \d+/u, "address: [Harbour Rooms, 9");
    edit(reopened, "status: signed", "status: draft");
    const proofed = whorl("proof", out, "--json");
    expect(proofed.code).toBe(1);
    const { documents }: { documents: { visit: string; faults: { id: string }[] }[] } = JSON.parse(
      proofed.out,
    );
    const faultsFor = (file: string) => {
      const { source } = first(manifestOf(out).visits.filter((v) => v.file === file));
      const { visit } = first(manifestOf(out).documents.filter((d) => d.source === source));
      return documents.filter((d) => d.visit === visit).flatMap((d) => d.faults.map((f) => f.id));
    };
    expect(faultsFor(kept)).toEqual([]);
    expect(faultsFor(gone)).toContain("visit-changed");
    expect(faultsFor(corrected)).toContain("impression-differs");
    expect(faultsFor(moved)).toContain("address-differs");
    expect(faultsFor(reopened)).toContain("draft-mark-missing");
    const again = JSON.parse(whorl("batch", folder, "--out", out, ...BATCH, "--json").out);
    expect(again).toMatchObject({ made: 2, waiting: 1, withdrawn: 2 });
    expect(whorl("proof", out).code).toBe(0);
  });

  it("a patient who joins the run later makes it look again at a letter that names that patient", async () => {
    const { folder, files } = generateVisits(join(scratch(), "visits"), 2);
    const [one = "", two = ""] = files;
    const text = readFileSync(two, "utf8");
    const late = join(folder, "late.yaml");
    edit(one, /^ {2}reason: .*$/mu, "  reason: Came with Torvald Brannagh.");
    const out = join(scratch(), "letters");
    expect(whorl("batch", folder, "--out", out, ...BATCH).code).toBe(0);
    // Two visits under one number that tell of two people: neither of their letters is good any more.
    const idIn = (file: string) => /^patient:\n {2}id: (\S+)/mu.exec(readFileSync(file, "utf8"))?.[1] ?? "";
    const bornIn = (file: string) => /born: (\S+)/u.exec(readFileSync(file, "utf8"))?.[1] ?? "";
    const before = readFileSync(two, "utf8");
    expect(idIn(one)).toBe(idIn(two));
    edit(two, bornIn(two), "1901-01-01");
    const doubted = JSON.parse(whorl("proof", out, "--json").out) as {
      documents: { faults: { id: string }[] }[];
    };
    for (const { faults } of doubted.documents) expect(faults.map(({ id }) => id)).toContain("born-differs");
    writeFileSync(two, before);
    expect(whorl("proof", out).code).toBe(0);
    writeFileSync(
      late,
      text
        .replace(/given: [^,]+, family: [^}]+/u, "given: Torvald, family: Brannagh ")
        .replaceAll(/TS-5\d{4}/gu, "TS-59999")
        .replace(/TS-2027-\d+/u, "TS-2027-00099"),
    );
    const again = whorl("batch", folder, "--out", out, ...BATCH, "--json");
    expect(again.code).toBe(1);
    expect(JSON.parse(again.out)).toMatchObject({ made: 1, unchanged: 1, failed: 1 });
    expect(
      manifestOf(out)
        .documents.map((d) => d.state)
        .sort(),
    ).toEqual(["ready", "ready", "set aside"]);
  });
});

import { cpSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { inPackage } from "../../src/base/root.js";
import type { MadeDocument } from "../../src/batch/make.js";
import type { Prepared } from "../../src/batch/prepare.js";
import { PatientIndex } from "../../src/batch/proof/patient-index.js";
import { proofDocument } from "../../src/batch/proof/proof-document.js";
import { readPdf } from "../../src/batch/proof/read-pdf.js";
import { matchAt, tokensOf } from "../../src/batch/token-text.js";
import { renderPdf } from "../../src/page/pdf.js";
import {
  documentOf,
  edited,
  faultsOf,
  MARIT,
  OTHER,
  people,
  prepared,
  proofInput,
  visitText,
} from "./proof-fixture.js";

let marit: Prepared;
let other: Prepared;
let letter: MadeDocument;
let handout: MadeDocument;
let otherLetter: MadeDocument;

beforeAll(async () => {
  marit = prepared(MARIT);
  other = prepared(OTHER);
  letter = await documentOf(marit, "referral-letter");
  handout = await documentOf(marit, "handout");
  otherLetter = await documentOf(other, "referral-letter");
});

const scratch = () => mkdtempSync(join(tmpdir(), "whorl-proof-"));

/** A clinic's template folder with one file changed. */
function templatesWith(name: string, change: (text: string) => string): string {
  const folder = scratch();
  mkdirSync(join(folder, "en"));
  const text = readFileSync(inPackage("templates", "en", name), "utf8");
  const changed = change(text);
  if (changed === text) throw new Error("the template was not changed");
  writeFileSync(join(folder, "en", name), changed);
  return folder;
}

function visitWith(file: string, change: (text: string) => string): Prepared {
  const text = visitText(file);
  const changed = change(text);
  if (changed === text) throw new Error("the visit was not changed");
  const path = join(scratch(), "visit.yaml");
  cpSync(join(dirname(file), "photos"), join(dirname(path), "photos"), { recursive: true });
  writeFileSync(path, changed);
  return prepared(path);
}

describe("good documents", () => {
  it("pass", async () => {
    for (const document of [letter, handout]) expect(await faultsOf(marit, document)).toEqual([]);
    expect(await faultsOf(other, otherLetter)).toEqual([]);
  });

  it("pass in large print, on US paper, and as a draft", async () => {
    const draft = visitWith(MARIT, (t) =>
      t.replace("status: signed", "status: draft").replace(/^ {2}language: .*$/mu, "$&\n  large_print: true"),
    );
    const document = await documentOf(draft, "handout");
    expect(document.letter.typeSize).toBe("large");
    expect(await faultsOf(draft, document)).toEqual([]);
    const us = await documentOf(marit, "referral-letter");
    const { value } = await renderPdf({ ...us.letter, paper: "Letter" });
    expect(await faultsOf(marit, us, { ...value, letter: { ...us.letter, paper: "Letter" } })).toEqual([]);
  });
});

describe("a plan", () => {
  const withLine = (line: string, change = (text: string) => text) =>
    visitWith(MARIT, (t) =>
      change(t).replace(/^plan:$/mu, `plan:\n  - { who: patient, action: Rest., ${line} }`),
    );

  it("passes with a time told in the language of the document", async () => {
    const german = withLine("when: today", (t) => t.replace(/^ {2}language: .*$/mu, "  language: de"));
    const document = await documentOf(german, "handout");
    expect(document.letter.html).toContain("Heute:");
    expect(await faultsOf(german, document)).toEqual([]);
  });

  it("passes when it closes a line, whose caution the doctor then need not read", async () => {
    const onTaxane = (t: string) => t.replace(/^ {2}medicines: .*$/mu, "  medicines: [paclitaxel]");
    const asks = "please compare its dates with the onset";
    for (const [answers, isAsked] of [
      ["[]", true],
      ["[drug-cause]", false],
    ] as const) {
      const visit = withLine(`answers: ${answers}`, onTaxane);
      const document = await documentOf(visit, "referral-letter");
      expect(document.letter.html.includes(asks), answers).toBe(isAsked);
      expect(await faultsOf(visit, document), answers).toEqual([]);
    }
  });
});

describe("planted mix-ups", () => {
  it("swapped files: another patient's letter under this name", async () => {
    const faults = await faultsOf(marit, letter, { bytes: otherLetter.bytes, pages: otherLetter.pages });
    expect(faults).toEqual(
      expect.arrayContaining(["patient-not-named", "other-patient", "impression-differs"]),
    );
  });

  it("this patient's letter to another recipient", async () => {
    const [first] = marit.examined.visit.sendTo;
    const recipient = {
      role: "dermatologist",
      name: "Dr Somebody Else",
      address: ["9 Elsewhere"],
      copy: false,
    };
    expect(await faultsOf(marit, letter, { recipient })).toEqual(["address-differs"]);
    expect(await faultsOf(marit, letter, { recipient: first ?? null })).toEqual([]);
  });

  it("a passage about another patient, in the letter and in the visit it came from", async () => {
    const { given, family } = other.examined.visit.patient.name;
    for (const text of [`${given} ${family}`, `${family}, ${given}`, other.examined.visit.patient.id]) {
      const mixed = visitWith(MARIT, (t) =>
        t.replace(/^ {2}reason: .*$/mu, `  reason: "Seen with ${text} today."`),
      );
      expect(await faultsOf(mixed, await documentOf(mixed, "referral-letter")), text).toEqual([
        "other-patient",
      ]);
    }
  });

  it("another patient's name that the clinician accepts", async () => {
    const id = other.examined.visit.patient.id;
    const accepted = visitWith(
      MARIT,
      (t) =>
        `${t.replace(/^ {2}reason: .*$/mu, `  reason: Seen with ${id} today.`)}\naccept:\n  - { id: other-patient, reason: sisters }\n`,
    );
    expect(await faultsOf(accepted, await documentOf(accepted, "referral-letter"))).toEqual([]);
  });

  it("one page of another letter bound in", async () => {
    const { PDFDocument } = await import("@cantoo/pdf-lib");
    const own = await PDFDocument.load(letter.bytes);
    const [page] = await own.copyPages(await PDFDocument.load(otherLetter.bytes), [0]);
    own.removePage(1);
    if (page) own.insertPage(1, page);
    const faults = await faultsOf(marit, letter, { bytes: await own.save() });
    expect(faults).toEqual(expect.arrayContaining(["other-patient", "patient-not-named"]));
  });
});

describe("planted edits", () => {
  it.each([
    ["certainty", "probable", "definite", ["impression-differs", "text-added", "text-missing"]],
    [
      "impression",
      "Alopecia areata</strong>",
      "Telogen effluvium</strong>",
      ["impression-differs", "text-added", "text-missing"],
    ],
    ["a word of the plan", "thyroid", "parathyroid", ["plan-differs", "text-added", "text-missing"]],
    [
      "the time of the plan",
      "By 23 April 2026",
      "By 30 April 2026",
      ["plan-differs", "text-added", "text-missing"],
    ],
    ["a word added", "Yours sincerely", "Yours most sincerely", ["text-added"]],
    ["words exchanged", "Yours sincerely", "Sincerely yours", ["text-moved"]],
  ])("%s", async (_, from, to, expected) => {
    const changed = await edited(letter, (html) => html.replace(from, to));
    expect(await faultsOf(marit, letter, changed)).toEqual(expect.arrayContaining(expected));
  });

  it("the amounts of two findings exchanged", async () => {
    const amounts = /<em>(Many|Several|Few):([\s\S]*?)<em>(Many|Several|Few):/u;
    const changed = await edited(letter, (html) => html.replace(amounts, "<em>$3:$2<em>$1:"));
    expect(await faultsOf(marit, letter, changed)).toEqual(["text-moved"]);
  });

  it("a caution cut out", async () => {
    const changed = await edited(letter, (html) =>
      html.replace(/<p><strong>Please bear in mind:[\s\S]*?<\/p>/u, ""),
    );
    expect(await faultsOf(marit, letter, changed)).toEqual(
      expect.arrayContaining(["caution-missing", "text-missing"]),
    );
  });

  it("a draft mark put on or taken off", async () => {
    const marked = await renderPdf({ ...letter.letter, draftMark: "DRAFT" });
    expect(await faultsOf(marit, letter, marked.value)).toEqual(expect.arrayContaining(["draft-mark-wrong"]));
    const draft = visitWith(MARIT, (t) => t.replace("status: signed", "status: draft"));
    const document = await documentOf(draft, "referral-letter");
    const clean = await renderPdf({ ...document.letter, draftMark: null });
    expect(await faultsOf(draft, document, clean.value)).toEqual(
      expect.arrayContaining(["draft-mark-missing"]),
    );
  });

  it("a page missing, and pages numbered otherwise", async () => {
    const { PDFDocument } = await import("@cantoo/pdf-lib");
    const own = await PDFDocument.load(letter.bytes);
    own.removePage(letter.pages - 1);
    expect(await faultsOf(marit, letter, { bytes: await own.save() })).toEqual(
      expect.arrayContaining(["page-count-differs", "text-missing"]),
    );
    const renumbered = await renderPdf({ ...letter.letter, pageWords: "Page {page} of 9" });
    expect(await faultsOf(marit, letter, renumbered.value)).toEqual(
      expect.arrayContaining(["page-count-differs"]),
    );
  });

  it("text pushed over the edge of the page, and into the window", async () => {
    const { PDFDocument } = await import("@cantoo/pdf-lib");
    for (const [x, y, fault] of [
      [560, 400, "text-clipped"],
      [90, 650, "address-differs"],
    ] as const) {
      const own = await PDFDocument.load(letter.bytes);
      own.getPage(0).drawText("Summary Summary Summary", { x, y, size: 10 });
      expect(await faultsOf(marit, letter, { bytes: await own.save() })).toEqual(
        expect.arrayContaining([fault]),
      );
    }
  });

  it("bytes cut off anywhere", async () => {
    for (const share of [0.02, 0.5, 0.9]) {
      const bytes = letter.bytes.slice(0, Math.floor(letter.bytes.length * share));
      const faults = await faultsOf(marit, letter, { bytes });
      expect(faults, String(share)).not.toEqual([]);
    }
    expect(await faultsOf(marit, letter, { bytes: new Uint8Array() })).toEqual(["unreadable-pdf"]);
  });
});

describe("templates that print the wrong field", () => {
  it.each([
    ["referral-letter.hbs", /\{\{sentence action\}\}/gu, "{{sentence who}}", "plan-differs"],
    ["referral-letter.hbs", /, \{\{certainty\}\}/u, ", {{term}}", "impression-differs"],
    ["window.part.hbs", /recipient\.lines/gu, "clinic.lines", "address-differs"],
    ["handout.hbs", /\{\{text\}\}/gu, "that", "impression-differs"],
  ])("%s %s", async (name, from, to, fault) => {
    const templates = templatesWith(name, (t) => t.replace(from, to));
    const document = await documentOf(
      marit,
      name === "handout.hbs" ? "handout" : "referral-letter",
      templates,
    );
    expect(await faultsOf(marit, document)).toEqual(expect.arrayContaining([fault]));
  });

  it("words.yaml without the patient's number at the foot", async () => {
    const templates = templatesWith("words.yaml", (t) =>
      t.replace(/^identifiers: .*$/mu, 'identifiers: "{name}"'),
    );
    const document = await documentOf(marit, "referral-letter", templates);
    expect(await faultsOf(marit, document)).toEqual(["patient-not-named"]);
  });
});

describe("faults", () => {
  it("quote nothing of the visit", async () => {
    const faults = await proofDocument({ ...proofInput(marit, letter), bytes: otherLetter.bytes });
    const said = JSON.stringify(faults);
    for (const p of people)
      for (const part of [p.patient, p.given, p.family]) expect(said).not.toContain(part);
  });
});

describe("the roll", () => {
  const namesakes = [
    { visit: "V1", patient: "TS-1", given: "Oda", family: "Farrow" },
    { visit: "V2", patient: "TS-20002", given: "Oda", family: "Farrow" },
    { visit: "V3", patient: "TS-20003", given: "Ivo", family: "Quill" },
  ];

  it("knows namesakes, doctors who are patients too, and numbers inside numbers", () => {
    const roll = new PatientIndex(namesakes);
    const others = (text: string, own: string, allowed: string[] = []) =>
      roll.othersIn(tokensOf(text), own, allowed.map(tokensOf));
    expect(others("Oda Farrow, no. TS-1", "TS-1", ["Oda Farrow"])).toEqual([]);
    expect(others("Oda Farrow, no. TS-20002", "TS-1", ["Oda Farrow"])).toEqual(["V2"]);
    expect(others("Dear Dr Quill", "TS-1", ["Dr Ivo Quill"])).toEqual([]);
    expect(others("To Dr Ivo Quill", "TS-1", ["Dr Ivo Quill"])).toEqual([]);
    expect(others("met IVO\nQUILL", "TS-1")).toEqual(["V3"]);
    expect(others("TS-200030 and XTS-20003", "TS-1")).toEqual([]);
  });

  it("finds a long name printed in parts, and numbers of one word or many", () => {
    const roll = new PatientIndex([
      { visit: "V1", patient: "7654321", given: "Oda", family: "Featherstonhaugh" },
      { visit: "V2", patient: "A-20-002", given: "Featherstonhaugh", family: "Quill" },
    ]);
    const others = (text: string) => roll.othersIn(tokensOf(text), "TS-1", []);
    expect(others("met Oda Feather-\nstonhaugh")).toEqual(["V1"]);
    expect(others("met Oda Feather-\nstone")).toEqual([]);
    expect(others("no. 7654321")).toEqual(["V1"]);
    expect(others("no. A-20-002, not A-20-003")).toEqual(["V2"]);
    expect(others("Oda")).toEqual([]);
  });
});

describe("somebody else, however written", () => {
  const roll = new PatientIndex([
    { visit: "TS-2027-00041", patient: "PE-10000", given: "J\u00fcrgen", family: "Br\u00f8ndum" },
    { visit: "W-1", patient: "9876", given: "Ann", family: "Lee" },
  ]);
  const others = (text: string, allowed: string[] = []) =>
    roll.othersIn(tokensOf(text), "TS-1", allowed.map(tokensOf));

  it.each([
    "J\u00fcrgen Br\u00f8ndum",
    "Jurgen Brondum",
    "JUERGEN BROENDUM",
    "Br\u00f8ndum, J\u00fcrgen",
    "J\u00fcrgen K. Br\u00f8ndum",
    "no. PE-10000",
    "no. PE10000",
    "no. pe 10000",
    "as at visit TS-2027-00041",
    "as at visit TS202700041",
  ])("%s is found", (text) => {
    expect(others(`Came with ${text} today.`)).toEqual(["TS-2027-00041"]);
  });

  it.each(["Br\u00f8ndum", "J\u00fcrgen", "PE 1000", "PE 10001", "visit W-1", "9876 hairs", "TS-2027-0004"])(
    "%s is nobody's",
    (text) => {
      expect(others(`Came with ${text} today.`)).toEqual([]);
    },
  );

  it("is allowed where the name is a recipient's, with or without accents", () => {
    expect(others("Dear Jurgen Brondum", ["Dr J\u00fcrgen Br\u00f8ndum"])).toEqual([]);
    expect(others("Ann B. Lee", ["Ann Lee"])).toEqual([]);
    expect(others("Ann B. Lee")).toEqual(["W-1"]);
  });
});

describe("reading back", () => {
  it("joins a long word broken at a line end, never a short one", () => {
    expect(matchAt(["hyper", "pigmentation", "x"], 0, ["hyperpigmentation"])).toBe(2);
    expect(matchAt(["1", "1"], 0, ["11"])).toBe(0);
  });

  it("says undefined for what is no PDF", async () => {
    expect(await readPdf(Buffer.from("%PDF-1.7\nnot really"))).toBeUndefined();
  });
});

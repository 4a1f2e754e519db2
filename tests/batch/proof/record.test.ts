/** What a visit records, held against words as printed: impression, plan and who may be named. */
import { describe, expect, it } from "vitest";
import { PatientIndex } from "../../../src/batch/proof/patient-index.js";
import type { ProofInput } from "../../../src/batch/proof/proof-document.js";
import { impressionFaults, otherPatientFaults, planFaults } from "../../../src/batch/proof/record.js";
import { tokensOf } from "../../../src/batch/token-text.js";
import { loadKnowledge } from "../../../src/knowledge/load.js";
import { namingSentence } from "../../../src/letter/named.js";
import { loadPack } from "../../../src/letter/pack.js";
import type { Impression, PlanLine, Visit } from "../../../src/visit/visit.js";
import { visit } from "../../measure/visit-for-tests.js";

const knowledge = loadKnowledge();
const { pack } = loadPack("en");
if (!pack) throw new Error("no English pack");

const input = (given: Partial<Visit>, reader: ProofInput["reader"] = "doctor") =>
  ({
    visit: visit(given),
    knowledge,
    pack,
    reader,
    clinic: { name: "Clinic", people: {} },
    roll: new PatientIndex([{ visit: "TS-2027-00009", patient: "TS-99999", given: "Ivo", family: "Quill" }]),
  }) as unknown as ProofInput;

const areata = (more: Partial<Impression> = {}): Impression => ({
  disorder: "alopecia-areata",
  certainty: "probable",
  ...more,
});
const FEW = "one two three four five six seven eight";

describe("an impression", () => {
  const faults = (text: string, ...impression: Impression[]) =>
    impressionFaults(input({ impression }), tokensOf(text)).map((r) => r.message.replace(/^.*\(/u, "("));

  it("stands with its certainty at most eight words after its name", () => {
    expect(faults("Alopecia areata, probable", areata())).toEqual([]);
    expect(faults(`Alopecia areata ${FEW} probable`, areata())).toEqual([]);
    expect(faults(`Alopecia areata ${FEW} nine probable`, areata())).toEqual(["(impression 1)"]);
    expect(faults("Alopecia areata, definite", areata())).toEqual(["(impression 1)"]);
    expect(faults("probable", areata())).toEqual(["(impression 1)"]);
    expect(faults(`Alopecia areata ${FEW} nine. Alopecia areata probable`, areata())).toEqual([]);
  });

  it("stands with its note, and is not looked for when it is excluded", () => {
    const note = "Active at the margin.";
    expect(faults(`Alopecia areata, probable. ${note}`, areata({ note }))).toEqual([]);
    expect(faults("Alopecia areata, probable. Active.", areata({ note }))).toEqual(["(impression 1)"]);
    expect(faults("", areata({ certainty: "excluded" }), areata())).toEqual(["(impression 2)"]);
  });
});

describe("an impression in the handout", () => {
  const faults = (text: string, ...impression: Impression[]) =>
    impressionFaults(input({ impression }, "patient"), tokensOf(text)).length;
  const said = (id: string, also = false) =>
    namingSentence(pack.words, knowledge, areata({ disorder: id }), !also);
  const second = { disorder: "tinea-capitis", certainty: "probable" } as const;
  const third = { disorder: "trichotillomania", certainty: "probable" } as const;

  it("is its sentence, for the first two alone", () => {
    expect(faults(said("alopecia-areata"), areata())).toBe(0);
    expect(faults("", areata())).toBe(1);
    const both = `${said("alopecia-areata")} ${said("tinea-capitis", true)}`;
    expect(faults(both, areata(), second)).toBe(0);
    expect(faults(said("alopecia-areata"), areata(), second)).toBe(1);
    expect(faults(both, areata(), second, third)).toBe(0);
  });

  it("that is kept for a talk is named nowhere, nor a lesser one in its place", () => {
    const kept = areata({ inHandout: false });
    expect(faults("", kept)).toBe(0);
    expect(faults("", kept, second)).toBe(0);
    expect(faults(knowledge.disorders["alopecia-areata"]?.patient.name ?? "", kept)).toBe(1);
    expect(faults(said("alopecia-areata"), areata(), { ...second, inHandout: false })).toBe(0);
  });
});

describe("a line of the plan", () => {
  const line = (action: string, when?: string): PlanLine =>
    ({ who: "clinic", action, ...(when ? { when } : {}) }) as PlanLine;
  const faults = (text: string, ...plan: PlanLine[]) =>
    planFaults(input({ plan }), tokensOf(text)).map((r) => r.message.replace(/^.*\(/u, "("));

  it("is there word for word, with its time close before or after it", () => {
    const plan = line("Repeat the thyroid test.", "within 6 weeks");
    expect(faults("Within 6 weeks: repeat the thyroid test.", plan)).toEqual([]);
    expect(faults("Repeat the thyroid test within 6 weeks.", plan)).toEqual([]);
    expect(faults(`Within 6 weeks ${FEW} repeat the thyroid test.`, plan)).toEqual([]);
    expect(faults(`Within 6 weeks ${FEW} nine repeat the thyroid test.`, plan)).toEqual([
      "(line 1 of the plan)",
    ]);
    expect(faults(`Repeat the thyroid test ${FEW} within 6 weeks`, plan)).toEqual([]);
    expect(faults(`Repeat the thyroid test ${FEW} nine within 6 weeks`, plan)).toEqual([
      "(line 1 of the plan)",
    ]);
    expect(faults("Repeat the thyroid test within 60 weeks.", plan)).toEqual(["(line 1 of the plan)"]);
    expect(faults("Repeat the thyroid test. Repeat the thyroid test within 6 weeks.", plan)).toEqual([]);
  });

  it("without a time needs none, and each line is told by its number", () => {
    const [one, two] = [line("Take a photo."), line("Come again.")];
    expect(faults("Take a photo. Come again.", one, two)).toEqual([]);
    expect(faults("Take a photo.", one, two)).toEqual(["(line 2 of the plan)"]);
    expect(faults("", one, two)).toEqual(["(line 1 of the plan)", "(line 2 of the plan)"]);
  });
});

describe("another patient", () => {
  const page = (text: string) =>
    [{ number: 3, all: tokensOf(text) }] as unknown as Parameters<typeof otherPatientFaults>[1];
  it("is told with the page, unless accepted or a recipient", () => {
    const faults = (given: Partial<Visit>) =>
      otherPatientFaults(input(given), page("Came with Ivo Quill.")).map((r) => `${r.where} ${r.message}`);
    expect(faults({})).toEqual([
      "page 3 Identifiers of another patient of the run stand in the document. (of visit TS-2027-00009)",
    ]);
    expect(faults({ accept: [{ id: "other-patient", reason: "Siblings." }] })).toEqual([]);
    const quill = { role: "gp", name: "Dr Ivo Quill", address: [], copy: false };
    expect(faults({ sendTo: [quill] })).toEqual([]);
  });
});

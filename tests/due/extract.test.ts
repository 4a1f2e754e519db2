import { describe, expect, it } from "vitest";
import { evaluateVisit } from "../../src/batch/examine.js";
import { type Extract, extractOf } from "../../src/due/extract.js";
import { parseVisit } from "../../src/visit/read.js";
import { exampleOf, knowledge } from "../letter/compose.js";
import { work } from "./invented.js";

const HEAD = (id: string, date: string) => `
format: 1
visit: { id: ${id}, date: ${date}, status: draft, seen_by: anneli-thorsby }
patient: { id: TS-1, name: { given: Ivo, family: Quill }, born: 2018-05-01, sex: male }
send_to: [{ role: general practitioner, name: Dr Ilse Brandt }]
`;

function extract(text: string): Extract {
  const { value, problems } = parseVisit(text, "v.yaml", knowledge, { today: "2026-12-01" });
  if (!value) throw new Error(problems.map((p) => p.message).join("; "));
  const { measures, interpretation } = evaluateVisit(value, { knowledge });
  return extractOf(value, measures, interpretation, knowledge);
}

const asVisit = (e: Extract) => ({ path: "v.yaml", identity: e.identity, extract: e, doubts: [] });

const SCALY = `${HEAD("V-1", "2026-03-12")}
sites: [{ site: vertex, findings: { comma hairs: several, diffuse scale: many } }]
`;

describe("an extract", () => {
  it("waits for nobody who was asked for nothing, and for whoever was asked for something after all", () => {
    const { asks } = extract(`${HEAD("V-1", "2026-03-12")}
plan:
  - { who: general practitioner, action: No further action is needed for the hair. }
  - { who: dermatologist, action: Nothing is asked of you. }
  - { who: pharmacist, action: No change is asked for; please refer back if a new patch appears. }
  - { who: school nurse, action: No shampoo is needed. }
`);
    expect(asks.map(({ who }) => who)).toEqual(["pharmacist", "school nurse"]);
  });

  it("holds what is asked of others, with its day, and nothing of clinic, patient, family or what was declined", () => {
    const { asks } = extract(`${HEAD("V-1", "2026-03-12")}
plan:
  - { who: general practitioner, action: Please repeat ferritin., when: within 6 weeks, urgency: soon }
  - { who: school nurse, action: Please look at the class. }
  - { who: clinic, action: We look again. }
  - { who: Patient, action: Take photos. }
  - { who: mother, action: Comb with oil. }
  - { who: dermatologist, action: Please take a biopsy., declined: yes }
`);
    expect(asks).toEqual([
      { who: "general practitioner", action: "Please repeat ferritin.", by: "2026-04-23", urgency: "soon" },
      { who: "school nurse", action: "Please look at the class." },
    ]);
  });

  it("of a visit with fungus signs leaves the line open, and one with the culture closes it, raised or not", () => {
    const raised = extract(SCALY);
    expect(raised.lines.find((l) => l.id === "fungal-infection")).toMatchObject({ open: true });
    const silent = extract(HEAD("V-2", "2026-04-12"));
    const told = extract(`${HEAD("V-2", "2026-04-12")}
tests: [{ name: fungal culture, result: no growth }]
`);
    expect(silent.closes).not.toContain("fungal-infection");
    expect(told.closes).toContain("fungal-infection");
    const open = (later: Extract) =>
      work("2026-05-01", asVisit(raised), asVisit(later)).filter((l) => l.startsWith("must-not-miss"));
    expect(open(silent)).toContain("must-not-miss V-1 2026-03-12!");
    expect(open(told)).toEqual([]);
  });

  it("closes nothing by a test that is awaited", () => {
    expect(
      extract(`${HEAD("V-2", "2026-04-12")}
tests: [{ name: fungal culture, result: awaited }]
`).closes,
    ).not.toContain("fungal-infection");
  });

  it("of a plan line that names a line closes it", () => {
    expect(
      extract(`${HEAD("V-2", "2026-04-12")}
plan: [{ who: general practitioner, action: Send scrapings., answers: [fungal-infection] }]
`).closes,
    ).toEqual(["fungal-infection"]);
  });

  it("tells which disorder a test names, and nothing by one that leans", () => {
    const proven = (test: string) => extract(`${SCALY}tests: [${test}]\n`).weighed.proven;
    expect(proven("{ name: fungal culture, result: Trichophyton tonsurans grown }")).toEqual([
      "tinea-capitis",
    ]);
    expect(proven("{ name: fungal culture, result: no growth }")).toEqual([]);
    expect(proven("{ name: Wood lamp, result: green fluorescence }")).toEqual([]);
  });

  it("keeps as plain data", () => {
    const { visit, measures, interpretation } = exampleOf("TS-2026-0402");
    const one = extractOf(visit, measures, interpretation, knowledge);
    expect(JSON.parse(JSON.stringify(one))).toEqual(one);
  });
});

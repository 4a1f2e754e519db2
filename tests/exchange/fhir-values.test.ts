/** Values of the FHIR document, each exactly: what is told of a measure, a pull test, an extent, a test and an impression. */
import { describe, expect, it } from "vitest";
import { conditionResource, momentOf } from "../../src/exchange/fhir-document.js";
import {
  extentObservation,
  measureObservation,
  pullObservation,
  siteObservation,
  testObservation,
} from "../../src/exchange/fhir-observations.js";
import type { DocumentFrame } from "../../src/exchange/fhir-parts.js";
import type { Measured } from "../../src/measure/types.js";
import type { Site } from "../../src/visit/visit.js";
import { testKnowledge } from "../visit/test-knowledge.js";

const frame: DocumentFrame = {
  clinic: "harbour",
  visit: "V-1",
  date: "2026-05-19",
  language: "en-GB",
  signed: false,
  moment: undefined,
  patient: { reference: "urn:uuid:p" },
  practitioner: { reference: "urn:uuid:d" },
  organization: { reference: "urn:uuid:o" },
};
const knowledge = {
  ...testKnowledge,
  sources: {
    ...testKnowledge.sources,
    "of-normal": { ...Object.values(testKnowledge.sources)[0], citation: "Reed 2021." },
  },
} as typeof testKnowledge;

const density: Measured = {
  id: "hair-density",
  term: "Hair density",
  site: "vertex",
  value: 143.26,
  unit: "/cm²",
  ucum: "/cm2",
  places: 0,
  source: "of-density; common practice",
  fromMemory: false,
};
const told = (value: number) => ({ value, unit: "/cm²", system: "http://unitsofmeasure.org", code: "/cm2" });
const note = (m: Measured) =>
  (measureObservation(frame, m, 1, knowledge).note as { text: string }[]).map(({ text }) => text);

describe("a measure", () => {
  it("has its value, and no limits, range or method where it has none", () => {
    const resource = measureObservation(frame, density, 1, knowledge);
    expect(resource.valueQuantity).toEqual(told(143.26));
    expect(resource.bodySite).toEqual({
      coding: [
        { system: "http://purl.obolibrary.org/obo/uberon.owl", code: "UBERON:0000403", display: "scalp" },
      ],
      text: "vertex",
    });
    for (const key of ["component", "referenceRange", "method", "note"])
      expect(resource).not.toHaveProperty(key);
  });

  it("has each limit that is a number", () => {
    const limits = (low?: number, high?: number) =>
      measureObservation(
        frame,
        { ...density, ...(low === undefined ? {} : { low }), ...(high === undefined ? {} : { high }) },
        1,
        knowledge,
      ).component;
    const lower = { code: { text: "95 % interval, lower limit" }, valueQuantity: told(120) };
    const upper = { code: { text: "95 % interval, upper limit" }, valueQuantity: told(170) };
    expect(limits(120, 170)).toEqual([lower, upper]);
    expect(limits(120, Number.POSITIVE_INFINITY)).toEqual([lower]);
    expect(limits(undefined, 170)).toEqual([upper]);
    expect(limits(Number.NaN, Number.POSITIVE_INFINITY)).toBeUndefined();
  });

  it("has the ends of its published range that there are, with the source", () => {
    const range = (ends: { low?: number; high?: number }) =>
      measureObservation(
        frame,
        { ...density, normal: { ...ends, group: "adults", source: "of-normal" } as Measured["normal"] & {} },
        1,
        knowledge,
      ).referenceRange;
    expect(range({ low: 90, high: 200 })).toEqual([
      { low: told(90), high: told(200), text: "adults (Reed 2021.)" },
    ]);
    expect(range({ low: 90 })).toEqual([{ low: told(90), text: "adults (Reed 2021.)" }]);
    expect(range({ high: 200 })).toEqual([{ high: told(200), text: "adults (Reed 2021.)" }]);
  });

  it("says what was counted, the band, and a caveat", () => {
    expect(note({ ...density, n: 84, band: "low", caveat: "One field." })).toEqual([
      "Counted or measured: 84.",
      "low.",
      "One field.",
    ]);
  });

  it("is told apart by measure, site and occurrence", () => {
    const id = (m: Partial<Measured>, occurrence = 1) =>
      measureObservation(frame, { ...density, ...m }, occurrence, knowledge).id;
    const ids = [id({}), id({}, 2), id({ id: "thin-share" }), id({ site: "nape" }), id({ siteIndex: 1 })];
    expect(new Set(ids).size).toBe(5);
    expect(id({})).toBe(ids[0]);
  });
});

describe("a site", () => {
  const nape: Site = { site: "nape", findings: [], fields: [], diametersUm: [], photos: [] };
  const scalp = {
    system: "http://purl.obolibrary.org/obo/uberon.owl",
    code: "UBERON:0000403",
    display: "scalp",
  };
  const all = {
    resourceType: "Observation",
    category: [
      {
        coding: [{ system: "http://terminology.hl7.org/CodeSystem/observation-category", code: "exam" }],
      },
    ],
    code: { text: "Dermoscopy findings" },
    subject: frame.patient,
    effectiveDateTime: "2026-05-19",
    performer: [frame.practitioner],
    bodySite: { coding: [scalp], text: "nape" },
  };
  const stripped = ({ id: _id, text: _text, ...rest }: ReturnType<typeof siteObservation>) => rest;

  it("at which nothing was recorded says that nothing was looked for", () => {
    expect(stripped(siteObservation(frame, nape, 1, knowledge))).toEqual({
      ...all,
      status: "preliminary",
      dataAbsentReason: {
        coding: [
          { system: "http://terminology.hl7.org/CodeSystem/data-absent-reason", code: "not-performed" },
        ],
      },
    });
    expect(JSON.stringify(siteObservation(frame, nape, 1, knowledge).text)).toContain("site 2, nape<");
  });

  it("has its patch, with a margin where one was seen, and its note", () => {
    const sized = { ...nape, notes: "Sore.", patch: { lengthMm: 30, widthMm: 20 } };
    const mm = (value: number) => ({ value, unit: "mm", system: "http://unitsofmeasure.org", code: "mm" });
    const size = [
      { code: { text: "patch length" }, valueQuantity: mm(30) },
      { code: { text: "patch width" }, valueQuantity: mm(20) },
    ];
    const site = { ...all, status: "final", note: [{ text: "Sore." }] };
    const signed = { ...frame, signed: true };
    expect(stripped(siteObservation(signed, sized, 0, knowledge))).toEqual({ ...site, component: size });
    const sharp: Site = { ...sized, patch: { ...sized.patch, margin: "sharp" } };
    expect(stripped(siteObservation(signed, sharp, 0, knowledge))).toEqual({
      ...site,
      component: [...size, { code: { text: "patch margin" }, valueCodeableConcept: { text: "sharp" } }],
    });
  });
});

it("a pull test says how many were pulled, came out, and were anagen where that was looked at", () => {
  const pull = { site: "vertex", pulled: 60, cameOut: 8 } as const;
  expect(pullObservation(frame, pull, 0).component).toEqual([
    { code: { text: "hairs pulled" }, valueInteger: 60 },
    { code: { text: "hairs that came out" }, valueInteger: 8 },
  ]);
  expect(JSON.stringify(pullObservation(frame, pull, 0).text)).toContain("vertex, 8 of 60 hairs came out<");
  const looked = pullObservation(frame, { ...pull, anagen: 0 }, 0);
  expect((looked.component as object[])[2]).toEqual({
    code: { text: "anagen hairs among them" },
    valueInteger: 0,
  });
  expect(JSON.stringify(looked.text)).toContain("vertex, 8 of 60 hairs came out, 0 of them anagen");
});

it("an extent names the areas that were judged, none among them", () => {
  expect(extentObservation(frame, {})).toBeUndefined();
  const percent = (area: string, value: number) => ({
    code: { text: `hair lost, ${area} of the scalp` },
    valueQuantity: { value, unit: "%", system: "http://unitsofmeasure.org", code: "%" },
  });
  expect(extentObservation(frame, { back: 5, top: 0 })?.component).toEqual([
    percent("top", 0),
    percent("back", 5),
  ]);
});

describe("a test", () => {
  const of = (test: object) => testObservation(frame, { name: "ferritin", ...test }, 0);
  it("awaited is registered, and says why there is no value", () => {
    for (const test of [{}, { result: "Awaited" }, { result: " pending since May" }])
      expect(of(test)).toMatchObject({
        status: "registered",
        dataAbsentReason: { coding: [{ code: "temp-unknown" }] },
      });
    expect(of({})).not.toHaveProperty("note");
    expect(of({ result: "Awaited" }).note).toEqual([{ text: "Awaited" }]);
  });

  it("with words has them, with a number the number and the words beside it", () => {
    expect(of({ result: "none awaited" })).toMatchObject({ valueString: "none awaited" });
    expect(of({ result: "none awaited" })).not.toHaveProperty("dataAbsentReason");
    const counted = of({ value: 18, unit: "ug/L", result: "low", date: "2026-03-01" });
    expect(counted).toMatchObject({
      effectiveDateTime: "2026-03-01",
      valueQuantity: { value: 18, unit: "ug/L", code: "ug/L" },
      note: [{ text: "low" }],
    });
    expect(of({ value: 18, unit: "dashes" }).valueQuantity).toEqual({ value: 18, unit: "dashes" });
    expect(of({ value: 18 })).not.toHaveProperty("effectiveDateTime");
    // Who did it is not known here.
    expect(counted).not.toHaveProperty("performer");
  });
});

describe("an impression", () => {
  const of = (line: object) =>
    conditionResource(
      frame,
      { disorder: "alopecia-areata", certainty: "probable", ...line } as Parameters<
        typeof conditionResource
      >[1],
      0,
      knowledge,
    );
  it("has its term, or the word that no file knows", () => {
    expect(of({}).code).toMatchObject({ text: "alopecia areata" });
    expect(of({ disorder: "harbour-loss" }).code).toEqual({ text: "harbour-loss" });
  });

  it("excluded is refuted and not active", () => {
    expect(of({}).clinicalStatus).toMatchObject({ coding: [{ code: "active" }] });
    expect(of({}).verificationStatus).toMatchObject({ coding: [{ code: "provisional" }] });
    expect(of({ certainty: "definite" }).verificationStatus).toMatchObject({
      coding: [{ code: "confirmed" }],
    });
    const excluded = of({ certainty: "excluded" });
    expect(excluded).not.toHaveProperty("clinicalStatus");
    expect(excluded.verificationStatus).toMatchObject({ coding: [{ code: "refuted" }] });
  });

  it("carries its note in the text and beside it", () => {
    expect(of({})).not.toHaveProperty("note");
    expect(of({ note: "Active." }).note).toEqual([{ text: "Active." }]);
    expect(JSON.stringify(of({ note: "Active." }).text)).toContain("alopecia areata, probable: Active.");
  });
});

it.each([
  ["2026-05-19T14:05+01:00", "2026-05-19T14:05:00+01:00"],
  ["2026-05-19T14:05:09.5Z", "2026-05-19T14:05:09.5Z"],
  ["2026-05-19", undefined],
  ["2026-05-19T14:05", undefined],
])("signed at %s is the moment %s", (at, moment) => {
  expect(momentOf({ signed: { by: "a", at } })).toBe(moment);
});

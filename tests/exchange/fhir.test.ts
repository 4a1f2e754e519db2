import { Fhir } from "fhir";
import { describe, expect, it } from "vitest";
import { toFhir } from "../../src/exchange/exchange.js";
import { humanName } from "../../src/exchange/fhir-people.js";
import type { Visit } from "../../src/visit/visit.js";
import { clinic, examples, knowledge } from "./examples.js";
import { brokenRules } from "./fhir-rules.js";

const pdf = new TextEncoder().encode("%PDF-1.7 stands for the letter");
const letters = [{ pdf, title: "Referral letter", language: "en-GB", addressee: "Dr Ilse Brandt" }];
const ASSEMBLED = "2027-01-04T09:00:00Z";
const inputOf = (example: (typeof examples)[number], visit: Visit = example.visit) => ({
  visit,
  clinic,
  measures: example.measures,
  knowledge,
  letters,
  assembled: ASSEMBLED,
});
const bundleOf = (example: (typeof examples)[number], visit: Visit = example.visit) =>
  toFhir(inputOf(example, visit));
const ofType = (bundle: ReturnType<typeof bundleOf>, type: string) =>
  bundle.entry.map((e) => e.resource).filter((r) => r.resourceType === type);

describe.each(examples.map((e) => [e.visit.id, e] as const))("the FHIR document of %s", (_id, example) => {
  const bundle = bundleOf(example);

  it("is accepted by a general validator", () => {
    const { valid, messages } = new Fhir().validate(bundle, { errorOnUnexpected: true });
    expect(messages.filter((m) => m.severity === "error" || m.severity === "fatal")).toEqual([]);
    expect(valid).toBe(true);
  });

  it("keeps the invariants of R4 that the validator does not judge", () => {
    expect(brokenRules(bundle)).toEqual([]);
  });

  it("holds one Observation of findings for each site, one Condition for each impression, the PDF whole", () => {
    const { visit } = example;
    const sites = ofType(bundle, "Observation").filter((o) =>
      JSON.stringify(o.code).includes("Dermoscopy findings"),
    );
    // Every place on the scalp is coded as scalp; an eyebrow is no part of it.
    expect(sites.map((o) => o.bodySite)).toEqual(
      visit.sites.map(({ site }) =>
        site.endsWith("eyebrow")
          ? { text: site }
          : { coding: [expect.objectContaining({ code: "UBERON:0000403" })], text: site },
      ),
    );
    expect(ofType(bundle, "Condition")).toHaveLength(visit.impression.length);
    const [reference] = ofType(bundle, "DocumentReference");
    const data = /"data":"([^"]+)"/u.exec(JSON.stringify(reference))?.[1] ?? "";
    expect(Buffer.from(data, "base64").equals(Buffer.from(pdf))).toBe(true);
  });

  it("holds nothing of the engine's own view", () => {
    const text = JSON.stringify(bundle);
    const recorded = new Set(example.visit.impression.map((i) => i.disorder));
    const codes = Object.values(knowledge.disorders)
      .filter((d) => recorded.has(d.id))
      .map((d) => d.icd10.code);
    const given = [...text.matchAll(/"system":"http:\/\/hl7.org\/fhir\/sid\/icd-10","code":"([^"]+)"/gu)].map(
      (m) => m[1],
    );
    expect(given.filter((code) => !codes.includes(code ?? ""))).toEqual([]);
    for (const band of ["strongly supported", "not assessable", "leads"]) expect(text).not.toContain(band);
  });
});

describe("the FHIR document", () => {
  const [example] = examples;
  if (!example) throw new Error("no examples");

  it("is the same each time, and shares patient and people between visits of one patient", () => {
    expect(bundleOf(example)).toEqual(bundleOf(example));
    const later = bundleOf(example, { ...example.visit, id: "TS-2026-9999" });
    const id = (type: string, of: typeof later) => ofType(of, type)[0]?.id;
    expect(id("Patient", later)).toBe(id("Patient", bundleOf(example)));
    expect(id("Composition", later)).not.toBe(id("Composition", bundleOf(example)));
  });

  it("codes what an open list has, and denies no more than was looked for", () => {
    const [site] = example.visit.sites;
    if (!site) throw new Error("no site");
    const of = (state: "present" | "absent", place = site.site) => {
      const seen = state === "present" ? { state, amount: "few" as const } : { state };
      const findings = ["reduced-density", "beaded-shaft", "lice", "yellow-dots"].map((finding) => ({
        finding,
        seen,
      }));
      const [first] = ofType(
        bundleOf(example, { ...example.visit, sites: [{ ...site, site: place, findings, fields: [] }] }),
        "Observation",
      );
      const components = first?.component as {
        readonly code: { coding?: { code: string }[]; text: string };
      }[];
      return Object.fromEntries(components.map(({ code }) => [code.text, code.coding?.map((c) => c.code)]));
    };
    const [density, beaded, lice] = [["HP:0008070"], ["HP:0003328"], ["HP:6000743"]];
    expect(of("present")).toMatchObject({
      "reduced hair density": density,
      "beaded shafts": beaded,
      "live lice": lice,
      "yellow dots": undefined,
    });
    // Other shafts may be abnormal; brow lice are no head lice.
    expect(of("absent")).toMatchObject({ "reduced hair density": density, "beaded shafts": undefined });
    expect(of("present", "left eyebrow")).toMatchObject({ "live lice": undefined, "beaded shafts": beaded });
  });

  it("names a disorder by the open list too, and rules out no more than that disorder", () => {
    const line = (disorder: string, certainty: "definite" | "excluded") => ({ disorder, certainty });
    const impression = [
      line("monilethrix", "definite"),
      line("scalp-sarcoidosis", "definite"),
      line("scalp-sarcoidosis", "excluded"),
    ];
    const coded = ofType(bundleOf(example, { ...example.visit, impression }), "Condition").map(({ code }) =>
      (code as { readonly coding: { system: string; code: string }[] }).coding.map(
        (c) => `${c.system} ${c.code}`,
      ),
    );
    const icd = (id: string) => `http://hl7.org/fhir/sid/icd-10 ${knowledge.disorders[id]?.icd10.code}`;
    expect(coded).toEqual([
      [icd("monilethrix"), "http://www.orpha.net 573"],
      [icd("scalp-sarcoidosis"), "http://www.orpha.net 797"],
      [icd("scalp-sarcoidosis")],
    ]);
  });

  it("is preliminary throughout, without attester, when the visit is not signed", () => {
    const draft = bundleOf(example, { ...example.visit, status: "draft" });
    expect(ofType(draft, "Composition").map((r) => [r.status, r.attester])).toEqual([
      ["preliminary", undefined],
    ]);
    expect(ofType(draft, "DiagnosticReport").map((r) => [r.status, r.effectiveDateTime])).toEqual([
      ["preliminary", example.visit.date],
    ]);
    expect(ofType(draft, "DocumentReference").map((r) => r.docStatus)).toEqual(["preliminary"]);
    expect(ofType(draft, "Observation").filter((r) => r.status === "final")).toEqual([]);
  });

  it("tells an awaited test by the reason why there is no value", () => {
    const visit: Visit = { ...example.visit, tests: [{ name: "fungal culture", result: "awaited" }] };
    const tests = ofType(bundleOf(example, visit), "Observation").filter((o) =>
      JSON.stringify(o.code).includes("culture"),
    );
    expect(tests).toHaveLength(1);
    expect(tests[0]?.status).toBe("registered");
    expect(JSON.stringify(tests[0]?.dataAbsentReason)).toContain("temp-unknown");
  });

  it("gives a laboratory unit a UCUM code only when it is sure of it", () => {
    const visit: Visit = {
      ...example.visit,
      tests: [
        { name: "ferritin", value: 41, unit: "µg/L" },
        { name: "odd", value: 3, unit: "spoons" },
      ],
    };
    const values = ofType(bundleOf(example, visit), "Observation")
      .filter((o) => JSON.stringify(o.category).includes("laboratory"))
      .map((o) => o.valueQuantity);
    expect(values).toEqual([
      { value: 41, unit: "µg/L", system: "http://unitsofmeasure.org", code: "ug/L" },
      { value: 3, unit: "spoons" },
    ]);
  });

  it("tells in its sections what was recorded, and of each site how far it was assessed", () => {
    const visit: Visit = {
      ...example.visit,
      patient: { ...example.visit.patient, phototype: "IV" },
      told: "May grow back.",
      tests: [{ name: "ferritin", value: 41, unit: "ug/L" }],
      sites: [
        { site: "vertex", findings: [], fields: [{ hairs: 30 }], diametersUm: [], photos: [] },
        { site: "nape", findings: [], fields: [], diametersUm: [], photos: [], notes: "Scaly." },
        {
          site: "frontal",
          findings: [{ finding: "yellow-dots", seen: { state: "absent" } }],
          fields: [],
          diametersUm: [],
          photos: [],
        },
      ],
    };
    const [composition] = ofType(bundleOf(example, visit), "Composition");
    const text = JSON.stringify(composition);
    for (const words of [
      "<p>Phototype: IV</p>",
      "<p>vertex (hairs were counted, no finding was looked for): Fields: hairs 30</p>",
      "<p>nape (findings not assessed): Notes: Scaly.</p>",
      "<p>frontal (nothing of what was looked for was seen): Findings: yellow dots not seen</p>",
      "<p>ferritin, 41 ug/L</p>",
      "<p>Told to the patient: May grow back.</p>",
    ])
      expect(text).toContain(words);
  });

  it("invents no time: only a moment of signing with its offset is one", () => {
    const times = (at?: string) => {
      const { signed: _signed, ...unsigned } = example.visit;
      const bundle = bundleOf(example, at ? { ...unsigned, signed: { by: "a", at } } : unsigned);
      const [report] = ofType(bundle, "DiagnosticReport");
      const [document] = ofType(bundle, "DocumentReference");
      return [report?.issued, document?.date];
    };
    expect(bundleOf(example).timestamp).toBe(ASSEMBLED);
    expect(times()).toEqual([undefined, undefined]);
    expect(times("2026-03-12T14:05")).toEqual([undefined, undefined]);
    const moment = "2026-03-12T14:05:00+01:00";
    expect(times("2026-03-12T14:05+01:00")).toEqual([moment, moment]);
  });

  it("holds the letter of each addressee, and names who it is for", () => {
    const second = { pdf, title: "Referral letter", language: "en-GB", addressee: "Dr Tomos Achterberg" };
    const bundle = toFhir({ ...inputOf(example), letters: [...letters, second] });
    const documents = ofType(bundle, "DocumentReference");
    expect(documents.map(({ description }) => description)).toEqual([
      "Referral letter, to Dr Ilse Brandt",
      "Referral letter, to Dr Tomos Achterberg",
    ]);
    expect(new Set(documents.map(({ id }) => id)).size).toBe(2);
  });

  it("says nothing of where our rules were read", () => {
    const text = JSON.stringify(ofType(bundleOf(example), "Observation").flatMap(({ note }) => note ?? []));
    expect(text).not.toMatch(/Rule:|DOI|from memory/u);
  });

  it("codes a disorder by the list of the clinic's country", () => {
    const coded = (language: string) => {
      const bundle = toFhir({
        ...inputOf(example),
        clinic: { ...clinic, language },
        visit: {
          ...example.visit,
          impression: [{ disorder: "frontal-fibrosing-alopecia", certainty: "probable" }],
        },
      });
      const code = ofType(bundle, "Condition")[0]?.code as { coding: unknown[] } | undefined;
      return code?.coding;
    };
    expect(coded("en-US")).toEqual([
      { system: "http://hl7.org/fhir/sid/icd-10-cm", code: "L66.12", display: "Frontal fibrosing alopecia" },
    ]);
    expect(coded("en-GB")).toEqual([
      { system: "http://hl7.org/fhir/sid/icd-10", code: "L66.1", display: "Lichen planopilaris" },
    ]);
  });

  it("gives names in parts where that is sure, and each number its series", () => {
    expect(
      ["Dr Anneli Thorsby", "Prof. Wen van der Castellane", "Madonna", "Dr 陈 伟"].map(humanName),
    ).toEqual([
      { text: "Dr Anneli Thorsby", family: "Thorsby", given: ["Anneli"], prefix: ["Dr"] },
      {
        text: "Prof. Wen van der Castellane",
        family: "van der Castellane",
        given: ["Wen"],
        prefix: ["Prof."],
      },
      { text: "Madonna" },
      { text: "Dr 陈 伟" },
    ]);
    const system = (type: string) =>
      (ofType(bundleOf(example), type)[0]?.identifier as { system: string }[] | undefined)?.[0]?.system;
    expect(system("Patient")).toMatch(/^urn:uuid:[0-9a-f-]{36}$/u);
    expect(system("Practitioner")).toMatch(/^urn:uuid:[0-9a-f-]{36}$/u);
    expect(system("Patient")).not.toBe(system("Practitioner"));
    expect(JSON.stringify(bundleOf(example))).not.toContain("from memory.");
  });

  it("keeps marks of a typed text out of the narrative's markup", () => {
    const visit: Visit = { ...example.visit, reason: 'Itch <b>"so" & so</b>' };
    const text = JSON.stringify(bundleOf(example, visit));
    expect(text).toContain("Itch &lt;b&gt;");
    expect(text).not.toContain("<b>");
  });
});

describe("the general validator", () => {
  const [example] = examples;
  if (!example) throw new Error("no examples");

  it.each([
    ["a missing status", /"status":"final",/u, ""],
    ["a word that is no gender", /"gender":"\w+"/u, '"gender":"lady"'],
    ["an element that is none", /"birthDate":/u, '"birthday":'],
    ["a list where one belongs", /"bodySite":(\{"coding":\[\{[^}]*\}\],[^}]*\})/u, '"bodySite":[$1]'],
  ])("would have found %s", (_what, from, to) => {
    const text = JSON.stringify(bundleOf(example));
    const spoiled = text.replace(from, to);
    expect(spoiled).not.toBe(text);
    expect(new Fhir().validate(JSON.parse(spoiled), { errorOnUnexpected: true }).valid).toBe(false);
  });
});

describe("the invariants themselves", () => {
  const [example] = examples;
  if (!example) throw new Error("no examples");
  const spoil = (change: (text: string) => string) =>
    brokenRules(JSON.parse(change(JSON.stringify(bundleOf(example)))) as ReturnType<typeof bundleOf>);

  it.each([
    ["bdl-9", (t: string) => t.replace(/"identifier":\{"system":"[^"]+",/u, '"identifier":{')],
    ["bdl-10", (t: string) => t.replace(/"timestamp":"[^"]+",/u, "")],
    ["att-1", (t: string) => t.replace('"contentType":"application/pdf",', "")],
    ["qty-3", (t: string) => t.replace('"system":"http://unitsofmeasure.org",', "")],
    ["ele-1", (t: string) => t.replace(/"title":"Impression"/u, '"title":""')],
    [
      "obs-6",
      (t: string) =>
        t.replace(
          /("performer":\[[^\]]*\],"bodySite":\{"coding":\[[^\]]*\],"text":"[^"]*"\},)"valueQuantity"/u,
          '$1"dataAbsentReason":{"text":"x"},"valueQuantity"',
        ),
    ],
    ["ref", (t: string) => t.replace(/"reference":"urn:uuid:[0-9a-f]{8}/u, '"reference":"urn:uuid:00000000')],
    ["txt-2", (t: string) => t.replace(/(?:<p>[^<]*<\/p>)+/u, "")],
  ])("%s is found when broken", (rule, change) => {
    expect(spoil(change).map((b) => b.split(" ")[0])).toContain(rule);
  });
});

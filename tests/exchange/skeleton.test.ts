import { Ajv } from "ajv";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import {
  clinicSkeleton,
  firstLook,
  followUpDraft,
  lookFor,
  visitSkeleton,
} from "../../src/exchange/exchange.js";
import type { Disorder } from "../../src/knowledge/schema.js";
import { parseClinic } from "../../src/visit/clinic.js";
import { clinicJsonSchema, visitJsonSchema } from "../../src/visit/json-schema.js";
import { parseVisit } from "../../src/visit/read.js";
import type { Visit } from "../../src/visit/visit.js";
import { runs, some } from "../runs.js";
import { examples, knowledge } from "./examples.js";

const date = "2026-11-25";
const ajv = new Ajv({ allowUnionTypes: true, allowMatchingProperties: true });
const fits = ajv.compile(visitJsonSchema(knowledge));
const read = (text: string) => parseVisit(text, "new.yaml", knowledge, { today: date });
const ids = (text: string, severity: string) =>
  read(text)
    .problems.filter((p) => p.severity === severity)
    .map((p) => p.id);

/** The least a person must fill in. */
const fill = (text: string): string =>
  Object.entries({
    "  id: ": ["TS-2026-0999", "TS-49999"],
    "  seen_by: ": ["anneli-thorsby"],
    "  reason: ": ["Itching for a month."],
    "    family: ": ["Lind"],
    "  born: ": ["1990-03-02"],
    "  sex: ": ["female"],
    "    name: ": ["Dr Ilse Brandt"],
  }).reduce(
    (filled, [key, values]) =>
      values.reduce(
        (t, value) => t.replace(new RegExp(`^(${key.trimEnd()}) +#`, "mu"), `$1 ${value}  #`),
        filled,
      ),
    text,
  );

describe("a visit skeleton", () => {
  const disorders = Object.values(knowledge.disorders);

  const forSuspected = (disorder: Disorder) =>
    visitSkeleton(
      { date, sites: [{ site: "left parietal" }, { site: "occipital" }] },
      { knowledge, suspect: [disorder] },
    );

  it.each(disorders.map((d) => [d.term, d] as const))(
    "for suspected %s asks once at each site for each of its findings",
    (_term, disorder) => {
      const text = forSuspected(disorder);
      const asked = lookFor(disorder, knowledge).flatMap((g) => g.findings);
      expect(new Set(asked).size).toBe(asked.length);
      for (const id of asked) {
        const term = knowledge.findings[id]?.term ?? "";
        expect(text.split(`      ${term}:`).length - 1, term).toBe(2);
      }
    },
  );

  it.each(some(disorders).map((d) => [d.term, d] as const))(
    "for suspected %s claims nothing until filled in",
    (_term, disorder) => {
      const text = forSuspected(disorder);
      const { problems } = read(text);
      const of = (severity: string) => problems.filter((p) => p.severity === severity).map((p) => p.id);
      expect([...new Set(of("error"))]).toEqual(["missing-key"]);
      expect(of("warning").filter((id) => id === "left-empty")).toHaveLength(1);
      const { value } = read(fill(text));
      expect(value?.sites.map((s) => [s.site, s.findings])).toEqual([
        ["left parietal", []],
        ["occipital", []],
      ]);
      expect([value?.impression, value?.tests, value?.plan, value?.history.symptoms]).toEqual([
        [],
        [],
        [],
        {},
      ]);
    },
  );

  it("is taken by the schema that its first line names, once filled in", () => {
    const text = fill(
      visitSkeleton({ date, sites: [{ site: "vertex" }] }, { knowledge, schemaRef: "s.json" }),
    );
    expect(text.split("\n")[0]).toBe("# yaml-language-server: $schema=s.json");
    expect(fits(parse(text)), JSON.stringify(fits.errors)).toBe(true);
  });

  it("reads what is written after a finding", () => {
    const suspect = [knowledge.disorders["alopecia-areata"]].filter((d) => d !== undefined);
    const text = fill(visitSkeleton({ date, sites: [{ site: "vertex" }] }, { knowledge, suspect }))
      .replace(/exclamation mark hairs:/u, "exclamation mark hairs: several")
      .replace(/ {6}comma hairs:/u, "      comma hairs: none");
    expect(read(text).value?.sites[0]?.findings).toEqual([
      { finding: "exclamation-mark-hairs", seen: { state: "present", amount: "several" } },
      { finding: "comma-hairs", seen: { state: "absent" } },
    ]);
  });

  it("asks first for the suspected disorder's own signs, then for what tells its mimics apart, then for scarring", () => {
    const areata = knowledge.disorders["alopecia-areata"];
    if (!areata) throw new Error("no alopecia areata");
    const groups = lookFor(areata, knowledge);
    expect(groups[0]?.findings).toEqual(
      expect.arrayContaining(["exclamation-mark-hairs", "yellow-dots", "black-dots"]),
    );
    const of = (term: string) => groups.find((g) => g.heading === term)?.findings ?? [];
    expect(of("trichotillomania")).toContain("v-sign");
    expect(of("tinea capitis")).toContain("comma-hairs");
    expect(groups.at(-1)?.findings).toContain("loss-of-openings");
  });

  it("looks at every kind of structure when nothing is suspected", () => {
    const kinds = new Set(
      firstLook(knowledge).flatMap((g) => g.findings.map((f) => knowledge.findings[f]?.group)),
    );
    expect(kinds).toEqual(new Set(["hair shaft", "follicular opening", "skin surface", "vessel"]));
  });

  it("holds the answers that were given, and asks only for the findings named", () => {
    const text = visitSkeleton(
      {
        date,
        sites: [{ site: "nape", seen: { "comma-hairs": "many", "black-dots": "none" } }],
        impression: [{ disorder: "tinea-capitis", certainty: "probable" }],
        followUpWeeks: 3,
      },
      { knowledge, findings: ["comma-hairs"] },
    );
    const { value } = read(fill(text));
    expect(value?.sites[0]?.findings.map((f) => f.finding)).toEqual(["comma-hairs", "black-dots"]);
    expect(value?.impression).toEqual([{ disorder: "tinea-capitis", certainty: "probable" }]);
    expect(value?.followUp).toEqual({ weeks: 3 });
    expect(text).not.toContain("yellow dots:");
  });
});

describe("a follow-up", () => {
  it.each(examples.map((e) => [e.visit.id, e.visit] as const))(
    "of %s carries who and where over, not what was found",
    (_id, visit) => {
      const text = visitSkeleton(followUpDraft(visit, "2026-12-01"), { knowledge });
      expect([...new Set(ids(text, "error"))]).toEqual(["missing-key"]);
      const next = parseVisit(fill(text), "next.yaml", knowledge, { today: "2026-12-01" }).value;
      const { phototype, pregnancy: _asked, ...patient } = visit.patient;
      expect(next?.patient).toEqual({ ...patient, ...(phototype ? { phototype } : {}) });
      expect(next?.sendTo).toEqual(visit.sendTo);
      expect(next?.scope).toEqual(visit.scope);
      expect(next?.seenBy).toBe(visit.seenBy);
      expect(next?.sites.map((s) => [s.site, s.at])).toEqual(visit.sites.map((s) => [s.site, s.at]));
      expect(next?.sites.flatMap((s) => [...s.findings, ...s.fields])).toEqual([]);
      expect(next?.impression).toEqual([]);
      expect(next?.history.medicines).toEqual([]);
      expect(next?.id).not.toBe(visit.id);
      for (const { finding } of visit.sites[0]?.findings ?? [])
        expect(text).toContain(`      ${knowledge.findings[finding]?.term}:`);
    },
  );

  it("keeps any name and address as they are", () => {
    const base = examples[0]?.visit;
    if (!base) throw new Error("no examples");
    const words = fc
      .string({ unit: "grapheme-ascii", minLength: 1, maxLength: 30 })
      .map((s) => s.trim().replace(/\s+/gu, " "))
      .filter((s) => s !== "");
    fc.assert(
      fc.property(words, words, fc.array(words, { minLength: 1, maxLength: 4 }), (given, family, address) => {
        const visit: Visit = {
          ...base,
          patient: { ...base.patient, name: { given, family }, address },
          sendTo: [{ role: family, name: given, address, copy: false }],
        };
        const next = read(fill(visitSkeleton(followUpDraft(visit, date), { knowledge }))).value;
        expect(next?.patient.name).toEqual({ given, family });
        expect(next?.patient.address).toEqual(address);
        expect(next?.sendTo).toEqual(visit.sendTo);
      }),
      { numRuns: runs(60) },
    );
  });
});

describe("a clinic skeleton", () => {
  it("asks for what is missing and fits its schema once filled in", () => {
    const text = clinicSkeleton("c.json");
    expect(text.split("\n")[0]).toBe("# yaml-language-server: $schema=c.json");
    expect(clinicSkeleton()).toBe(text.slice(text.indexOf("\n") + 1));
    const { problems } = parseClinic(text, "clinic.yaml");
    expect([...new Set(problems.filter((p) => p.severity === "error").map((p) => p.id))]).toEqual([
      "missing-key",
    ]);
    const filled = text
      .replace(/^name: +#/mu, "name: Tarn Sound Hair and Scalp Clinic  #")
      .replace(/^lines: +#/mu, "lines: [2 Harbour Terrace]  #")
      .replace(/^phone: +#/mu, "phone: 01632 960140  #")
      .replace(/^ {4}name: +#/mu, "    name: Dr Anneli Thorsby  #")
      .replace(/^ {4}role: +#/mu, "    role: Consultant dermatologist  #")
      .replace(/- label: +#/u, "- label: Emergency services  #")
      .replace(/^ {4}number: +#/mu, "    number: 01632 960999  #");
    expect(parseClinic(filled, "clinic.yaml").value?.name).toBe("Tarn Sound Hair and Scalp Clinic");
    const takes = ajv.compile(clinicJsonSchema());
    expect(takes(parse(filled)), JSON.stringify(takes.errors)).toBe(true);
  });
});

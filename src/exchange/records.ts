/** A visit -> audit records: one for each finding, count, measure, test and impression, so that a spreadsheet can add them up. */
import type { Knowledge } from "../knowledge/schema.js";
import type { Measured, Measures } from "../measure/types.js";
import type { CountedField, FindingSeen, Patch, Site, Visit } from "../visit/visit.js";

export const RECORD_KINDS = [
  "site",
  "patch",
  "finding",
  "counted",
  "diameter",
  "pull test",
  "extent",
  "measure",
  "not measured",
  "test",
  "impression",
] as const;
export type RecordKind = (typeof RECORD_KINDS)[number];

/** One row. Numbers that were not recorded are null, words that were not recorded are empty; 0 is a number that was. */
export interface VisitRecord {
  readonly visit: string;
  readonly date: string;
  readonly status: string;
  readonly seen_by: string;
  /** The clinic's number; no name leaves with an audit. */
  readonly patient: string;
  /** Place in the visit's list of sites, from 1. */
  readonly site_number: number | null;
  readonly site: string;
  readonly kind: RecordKind;
  readonly id: string;
  readonly term: string;
  /** present or absent, for findings; a certainty, for impressions. */
  readonly state: string;
  readonly value: number | null;
  readonly unit: string;
  readonly low: number | null;
  readonly high: number | null;
  /** How many were counted. */
  readonly n: number | null;
  /** Over how many fields of view, or which of them. */
  readonly fields: number | null;
  /** Amount, margin, result or what was missing, in words. */
  readonly words: string;
  readonly source: string;
}

type Given = Partial<VisitRecord> & Pick<VisitRecord, "kind" | "id" | "term">;

const NOTHING = {
  site_number: null,
  site: "",
  state: "",
  value: null,
  unit: "",
  low: null,
  high: null,
  n: null,
  fields: null,
  words: "",
  source: "",
} as const;

/** The records of one visit, in the order of the visit file. Every site has at least one. */
export function visitRecords(visit: Visit, measures: Measures, knowledge: Knowledge): VisitRecord[] {
  const same = {
    visit: visit.id,
    date: visit.date,
    status: visit.status,
    seen_by: visit.seenBy,
    patient: visit.patient.id,
  };
  const given: Given[] = [
    ...visit.sites.flatMap((site, i) => siteRecords(site, i, knowledge)),
    ...visit.pullTest.flatMap((pull): Given[] => {
      const at = { kind: "pull test", site: pull.site, unit: "hairs" } as const;
      return [
        {
          ...at,
          id: "came-out",
          term: "hairs that came out, of those pulled",
          value: pull.cameOut,
          n: pull.pulled,
        },
        ...(pull.anagen === undefined
          ? []
          : [
              {
                ...at,
                id: "anagen",
                term: "anagen hairs, of those that came out",
                value: pull.anagen,
                n: pull.cameOut,
              },
            ]),
      ];
    }),
    ...Object.entries(visit.extent ?? {}).map(
      ([area, value]): Given => ({ kind: "extent", id: area, term: `hair lost, ${area}`, value, unit: "%" }),
    ),
    ...measures.measured.map(measureRecord),
    ...measures.notMeasured.map(
      ({ id, term, site = "", siteIndex, missing }): Given => ({
        kind: "not measured",
        id,
        term,
        site,
        site_number: siteIndex === undefined ? null : siteIndex + 1,
        words: missing,
      }),
    ),
    ...visit.tests.map(
      ({ name, value = null, unit = "", result = "", date = "" }): Given => ({
        kind: "test",
        id: name,
        term: name,
        value,
        unit,
        words: result,
        state: date,
      }),
    ),
    ...visit.impression.map(
      ({ disorder, certainty, note = "" }): Given => ({
        kind: "impression",
        id: disorder,
        term: knowledge.disorders[disorder]?.term ?? disorder,
        state: certainty,
        words: note,
      }),
    ),
  ];
  return given.map((record) => ({ ...same, ...NOTHING, ...record }));
}

function siteRecords(site: Site, index: number, knowledge: Knowledge): Given[] {
  const at = { site: site.site, site_number: index + 1 };
  const { patch } = site;
  return [
    { ...at, kind: "site", id: site.site, term: site.site, words: site.notes ?? "" },
    ...(patch ? patchRecords(patch).map((r): Given => ({ ...at, ...r })) : []),
    ...site.findings.map((f): Given => ({ ...at, ...findingRecord(f, knowledge) })),
    ...site.fields.flatMap((field, i) => countRecords(field, i + 1).map((r): Given => ({ ...at, ...r }))),
    ...site.diametersUm.map(
      (value): Given => ({
        ...at,
        kind: "diameter",
        id: "shaft-diameter",
        term: "shaft diameter",
        value,
        unit: "um",
      }),
    ),
  ];
}

function patchRecords({ lengthMm, widthMm, margin }: Patch): Given[] {
  return [
    { kind: "patch", id: "length", term: "patch length", value: lengthMm, unit: "mm" },
    { kind: "patch", id: "width", term: "patch width", value: widthMm, unit: "mm" },
    ...(margin ? [{ kind: "patch", id: "margin", term: "patch margin", words: margin } as const] : []),
  ];
}

function findingRecord({ finding, seen }: FindingSeen, knowledge: Knowledge): Given {
  const term = knowledge.findings[finding]?.term ?? finding;
  const base = { kind: "finding", id: finding, term, state: seen.state } as const;
  if (seen.state === "absent") return base;
  const { count, amount } = seen;
  return { ...base, words: amount ?? "", ...(count ? { n: count.count, fields: count.fields } : {}) };
}

function countRecords(field: CountedField, number: number): Given[] {
  const counts: readonly (readonly [string, string, number | undefined])[] = [
    ["hairs", "hairs", field.hairs],
    ["thin", "thin hairs", field.thin],
    ["vellus", "vellus hairs", field.vellus],
    ["yellow-dots", "yellow dots", field.yellowDots],
    ["discoloured-openings", "discoloured openings", field.discolouredOpenings],
    ...Object.entries(field.units ?? {}).map(([n, units]) => [`units-${n}`, `units of ${n}`, units] as const),
  ];
  return counts.flatMap(([id, term, value]): Given[] =>
    value === undefined ? [] : [{ kind: "counted", id, term, value, fields: number }],
  );
}

function measureRecord(m: Measured): Given {
  return {
    kind: "measure",
    id: m.id,
    term: m.term,
    site: m.site ?? "",
    site_number: m.siteIndex === undefined ? null : m.siteIndex + 1,
    value: m.value,
    unit: m.unit,
    low: m.low ?? null,
    high: m.high ?? null,
    n: m.n ?? null,
    words: m.band ?? "",
    source: m.fromMemory ? `${m.source} (from memory)` : m.source,
  };
}

/** Arbitrary visits over the shipped knowledge, for the laws of the interpret room. */
import fc from "fast-check";
import { loadKnowledge } from "../../src/knowledge/load.js";
import {
  AMOUNTS,
  CERTAINTIES,
  PHOTOTYPES,
  REGIONS,
  SEXES,
  type Seen,
  type Site,
  type Visit,
} from "../../src/visit/visit.js";
import { visitWith } from "../interpret/visits.js";

export const knowledge = loadKnowledge();
export const findingIds = Object.keys(knowledge.findings);
const disorderIds = Object.keys(knowledge.disorders);

const seen: fc.Arbitrary<Seen> = fc.oneof(
  fc.constantFrom(...AMOUNTS, null).map((amount): Seen => ({ state: "present", amount })),
  fc.constant<Seen>({ state: "absent" }),
);

const site: fc.Arbitrary<Site> = fc
  .record({
    site: fc.constantFrom(...REGIONS),
    found: fc.uniqueArray(fc.tuple(fc.constantFrom(...findingIds), seen), {
      maxLength: 9,
      selector: ([finding]) => finding,
    }),
    patch: fc.option(fc.constant({ lengthMm: 31, widthMm: 23 }), { nil: undefined }),
  })
  .map(({ site: region, found, patch }) => ({
    site: region,
    findings: found.map(([finding, how]) => ({ finding, seen: how })),
    fields: [],
    diametersUm: [],
    photos: [],
    ...(patch ? { patch } : {}),
  }));

const phrases = [
  "tight braids",
  "chemotherapy",
  "psoriasis",
  "rash on the palms",
  "a kitten",
  "childbirth four months ago",
  "denies pulling",
  "moth eaten patches",
];

export const anyVisit: fc.Arbitrary<Visit> = fc
  .record({
    id: fc.constantFrom("TS-1", "TS-2", "TS-2026-0141"),
    born: fc.constantFrom("2021-05-05", "2012-01-30", "1994-11-02", "1958-08-17"),
    sex: fc.constantFrom(...SEXES),
    phototype: fc.option(fc.constantFrom(...PHOTOTYPES), { nil: undefined }),
    sites: fc.uniqueArray(site, { minLength: 0, maxLength: 3, selector: (s) => s.site }),
    notes: fc.option(fc.constantFrom(...phrases), { nil: undefined }),
    onset: fc.option(fc.constantFrom("sudden" as const, "gradual" as const), { nil: undefined }),
    durationWeeks: fc.option(fc.integer({ min: 0, max: 900 }), { nil: undefined }),
    itch: fc.option(fc.integer({ min: 0, max: 10 }), { nil: undefined }),
    tests: fc.subarray([
      { name: "Fungal culture", result: "Trichophyton tonsurans" },
      { name: "Scalp biopsy", result: "Lichen planopilaris" },
      { name: "Syphilis serology", result: "negative" },
      { name: "Ferritin", value: 9, unit: "ug/L" },
    ]),
    impression: fc.uniqueArray(
      fc.record({ disorder: fc.constantFrom(...disorderIds), certainty: fc.constantFrom(...CERTAINTIES) }),
      { maxLength: 2, selector: (i) => i.disorder },
    ),
  })
  .map(({ born, sex, phototype, notes, onset, durationWeeks, itch, ...rest }) =>
    visitWith({
      ...rest,
      patient: { born, sex, ...(phototype ? { phototype } : {}) },
      history: {
        ...(notes ? { notes } : {}),
        ...(onset ? { onset } : {}),
        ...(durationWeeks === undefined ? {} : { durationWeeks }),
        symptoms: itch === undefined ? {} : { itch },
      },
    }),
  );

/** The visit with one more thing recorded at its first site; a site is added when there is none. */
export function withFinding(visit: Visit, finding: string, how: Seen): Visit {
  const [first, ...others] = visit.sites;
  const base: Site = first ?? { site: "vertex", findings: [], fields: [], diametersUm: [], photos: [] };
  const findings = [...base.findings.filter((f) => f.finding !== finding), { finding, seen: how }];
  return { ...visit, sites: [{ ...base, findings }, ...others] };
}

/** The visit as if the finding had been assessed nowhere. */
export function without(visit: Visit, finding: string): Visit {
  const sites = visit.sites.map((s) => ({ ...s, findings: s.findings.filter((f) => f.finding !== finding) }));
  return { ...visit, sites };
}

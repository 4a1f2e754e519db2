/** A knowledge of three made-up disorders and five findings, so that the arithmetic can be followed by hand. */

import { NO_LESSONS } from "../../src/knowledge/lessons-schema.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { NO_OPEN_CODES } from "../../src/knowledge/open-codes.js";
import {
  type Disorder,
  disorderSchema,
  type Finding,
  findingSchema,
  type Knowledge,
} from "../../src/knowledge/schema.js";
import { NO_TOLD } from "../../src/knowledge/told-schema.js";

const weighing = loadKnowledge().weighing;

function finding(id: string, parts: Record<string, unknown> = {}): Finding {
  const entry = findingSchema.parse({
    term: id.replaceAll("-", " "),
    group: "hair shaft",
    what: "Made up.",
    plain: { name: "a sign", means: "It means little." },
    mechanism: "alone",
    one_alone_counts: true,
    elsewhere: { percent: [2, 30], basis: "common practice" },
    ...parts,
  });
  return { ...entry, id };
}

function disorder(id: string, parts: Record<string, unknown> = {}): Disorder {
  const entry = disorderSchema.parse({
    term: id.replaceAll("-", " "),
    icd10: { code: "L65.9", title: "Made up", how: "memory" },
    family: "non-scarring",
    base: { weight: 0, basis: "common practice" },
    letter: { about: "Made up." },
    patient: { name: id, is: ["x"], means: ["x"], next: ["x"], ask: ["x"] },
    ...parts,
  });
  return { ...entry, id };
}

const counted = (positive: number, of: number, rest: Record<string, unknown> = {}) => ({
  positive,
  of,
  source: "rope2020",
  how: "read",
  ...rest,
});

/** `change` may replace whole parts. */
export function smallKnowledge(change: Partial<Knowledge> = {}): Knowledge {
  const findings = [
    finding("hooked-ends", { one_alone_counts: false }),
    finding("pale-rings", { share: 0.5 }),
    finding("tar-dots"),
    finding("salt-crust", {
      scarring_sign: true,
      group: "skin surface",
      elsewhere: { percent: [0, 1], basis: "common practice" },
    }),
    finding("knot-gaps"),
  ];
  const disorders = [
    disorder("harbour-loss", {
      base: { weight: 0.5, basis: "common practice" },
      evidence: {
        "hooked-ends": [counted(80, 100), counted(38, 50, { source: "quay2021" })],
        "tar-dots": [
          counted(5, 100, { subgroup: "children under ten" }),
          counted(90, 100, { subgroup: "adults" }),
        ],
        "pale-rings": [counted(30, 100)],
      },
      patterns: [
        {
          id: "hooks-and-dots",
          when: { all: [{ finding: "hooked-ends", at_least: "several" }, { finding: "tar-dots" }] },
          weight: 1.5,
          says: "Hooked ends with tar dots.",
          source: "common practice",
        },
      ],
      activity: [
        {
          state: "active",
          when: { finding: "hooked-ends" },
          says: "Hooks mean loss now.",
          source: "common practice",
        },
        {
          state: "recovering",
          when: { finding: "pale-rings" },
          says: "Rings mean regrowth.",
          source: "common practice",
        },
      ],
      pitfalls: [{ finding: "tar-dots", says: "Tar dots hide in fair hair.", source: "quay2021" }],
    }),
    disorder("net-scar", {
      family: "scarring",
      evidence: {
        "salt-crust": [counted(45, 50)],
        "pale-rings": [counted(35, 50)],
        "hooked-ends": [counted(1, 50)],
        "tar-dots": [counted(20, 60)],
      },
      cautions: ["take-tissue"],
    }),
    disorder("rope-wear", { evidence: { "knot-gaps": [counted(40, 50)], "tar-dots": [counted(15, 50)] } }),
  ];
  const byId = <T extends { id: string }>(list: readonly T[]) =>
    Object.fromEntries(list.map((x) => [x.id, x]));
  return {
    sources: {},
    findings: byId(findings),
    disorders: byId(disorders),
    facts: {},
    hazards: {},
    lessons: NO_LESSONS,
    told: NO_TOLD,
    medicines: {
      tarring: { also: [], classes: ["tar-medicine"], source: "common practice", how: "memory" },
    },
    icd10cm: {},
    openCodes: NO_OPEN_CODES,
    cautions: {
      "take-tissue": {
        id: "take-tissue",
        term: "Tissue before treatment",
        always: false,
        when: { any: [{ finding: "salt-crust" }, { band: "family:scarring", at_least: "supported" }] },
        must_not_miss: {
          id: "scarring",
          why: "Salt crust may mean scarring.",
          urgency: "soon",
          faster: [],
          who: "the receiving doctor",
          tested: { tested: ["biopsy"] },
          answers: [],
          private: [],
          plan_words: ["biopsy"],
        },
        contradicted_by: { when: { planned: ["tar-medicine"] }, says: "No tarring before the biopsy." },
        doctor: "Please arrange a biopsy.",
        source: "common practice",
      },
    },
    context: [
      {
        id: "works-at-sea",
        when: { mentions: ["net maker", "sail*"], in: ["notes"] },
        shifts: { "net-scar": 3, "family:non-scarring": -1 },
        says: "Salt exposure.",
        source: "common practice",
      },
      {
        id: "salt-titre-high",
        when: { test: ["salt titre"], result: ["high"] },
        shifts: { "net-scar": 6 },
        says: "A high salt titre.",
        source: "common practice",
      },
      {
        id: "salt-titre-low",
        when: { test: ["salt titre"], result: ["low"] },
        shifts: { "net-scar": -2 },
        says: "A low salt titre.",
        source: "common practice",
      },
    ],
    tests: {
      fungal: {
        named: ["scraping*"],
        of: [],
        not_of: [],
        since_onset: false,
        old_weeks: 13,
        source: "common practice",
      },
      biopsy: {
        named: ["biopsy"],
        of: ["scalp"],
        not_of: ["toe"],
        since_onset: true,
        old_weeks: 13,
        source: "common practice",
      },
    },
    scores: {},
    regions: {},
    glossary: {},
    healthy: { "pale-rings": [{ positive: 2, of: 100, source: "rope2020", how: "read" }] },
    frequencyWords: { common: [25, 75] },
    weighing,
    prose: loadKnowledge().prose,
    normals: {},
    ...change,
  };
}

/** A small knowledge of its own, so that tests of reading do not hang on the clinical files. */

import { readFileSync } from "node:fs";
import { parse } from "yaml";
import { inPackage } from "../../src/base/root.js";
import { NO_LESSONS } from "../../src/knowledge/lessons-schema.js";
import { NO_OPEN_CODES } from "../../src/knowledge/open-codes.js";
import { proseSchema } from "../../src/knowledge/prose-schema.js";
import type { Caution, Disorder, Fact, Finding, Knowledge, Score } from "../../src/knowledge/schema.js";
import { NO_TOLD } from "../../src/knowledge/told-schema.js";
import { weighingSchema } from "../../src/knowledge/weighing-schema.js";

type Group = Finding["group"];

function finding(term: string, group: Group, also: string[] = []): Finding {
  return {
    id: term.replaceAll(" ", "-"),
    term,
    also,
    group,
    what: `${term}, as seen.`,
    plain: { name: term, means: "Something seen." },
    mechanism: "alone",
    share: 1,
    one_alone_counts: true,
    scarring_sign: false,
    elsewhere: { percent: [1, 10], basis: "common practice" },
    notes: [],
  };
}

function disorder(term: string, family: Disorder["family"], also: string[] = []): Disorder {
  return {
    id: term.replaceAll(" ", "-"),
    term,
    also,
    icd10: { code: "L00", title: term, how: "memory" },
    family,
    base: { weight: 0, basis: "common practice" },
    evidence: {},
    patterns: [],
    activity: [],
    stages: [],
    next: [],
    mimics: [],
    pitfalls: [],
    cautions: [],
    letter: { about: "About." },
    patient: { name: term, is: ["Is."], means: ["Means."], next: ["Next."], ask: ["Ask?"], help: [] },
  };
}

const score: Score = {
  id: "test-score",
  term: "Test score",
  about: "For tests.",
  inputs: {
    redness: { min: 0, max: 3, whole: true, says: "Redness, 0 to 3." },
    length_cm: { min: 0, max: 20, whole: false, says: "Length in centimetres." },
  },
  source: "common practice",
  how: "memory",
};

function fact(term: string, kind: Fact["kind"], also: string[] = []): Fact {
  const empty = { written: [], hinted: {}, counts: [], evidence: {}, hazards: [], source: "common practice" };
  return { id: term.replaceAll(" ", "-"), term, kind, also, what: `${term}.`, plain: term, ...empty };
}

function hazard(id: string): Caution {
  return {
    id: `possible-${id}`,
    term: `Possible ${id}`,
    always: false,
    must_not_miss: {
      id,
      why: `It may be ${id}.`,
      urgency: "soon",
      faster: [],
      who: "the clinic",
      answers: [],
      plan_words: [],
      private: [],
    },
    source: "common practice",
  };
}

const byId = <T extends { id: string }>(entries: T[]): Record<string, T> =>
  Object.fromEntries(entries.map((entry) => [entry.id, entry]));

export const testKnowledge: Knowledge = {
  sources: {},
  findings: byId([
    finding("exclamation mark hairs", "hair shaft", ["tapering hairs"]),
    finding("black dots", "follicular opening", ["cadaverised hairs"]),
    finding("yellow dots", "follicular opening"),
    finding("broken hairs", "hair shaft"),
    finding("perifollicular scale", "skin surface", ["peripilar casts"]),
    finding("comma hairs", "hair shaft"),
    finding("coiled hairs", "hair shaft"),
    finding("blue-grey dots", "follicular opening"),
    finding("perifollicular haemorrhage", "vessel"),
    finding("twisted loop vessels", "vessel", ["red loops"]),
  ]),
  disorders: byId([
    disorder("alopecia areata", "non-scarring", ["AA"]),
    disorder("tinea capitis", "infection", ["scalp ringworm"]),
    disorder("androgenetic alopecia", "non-scarring", ["pattern hair loss"]),
    disorder("lichen planopilaris", "scarring"),
  ]),
  facts: byId([
    fact("jaw ache", "red flag", ["jaw claudication"]),
    fact("recent childbirth", "history"),
    fact("tight styles", "exposure"),
    fact("moth-eaten", "pattern"),
    fact("boggy swelling", "sign", ["boggy scalp"]),
    fact("diffuse loss", "pattern"),
  ]),
  hazards: {},
  lessons: NO_LESSONS,
  told: NO_TOLD,
  tests: {},
  medicines: {},
  icd10cm: {},
  openCodes: NO_OPEN_CODES,
  cautions: byId(["kerion", "scarring"].map(hazard)),
  context: [],
  scores: byId([score]),
  regions: { vertex: { plain: "the crown of your head", also: ["crown"] } },
  glossary: {},
  healthy: {},
  frequencyWords: {},
  normals: {},
  prose: proseSchema.parse(parse(readFileSync(inPackage("src", "knowledge", "prose.yaml"), "utf8"))),
  weighing: weighingSchema.parse(parse(readFileSync(inPackage("src", "knowledge", "weighing.yaml"), "utf8"))),
};

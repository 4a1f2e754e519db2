/** How often must-not-miss lines are raised: on made-up healthy visits, and on the published cases beside what each called for. */
import type { FactId } from "../../src/base/ids.js";
import { holds } from "../../src/interpret/conditions.js";
import { factsOf } from "../../src/interpret/facts.js";
import { interpret } from "../../src/interpret/interpret.js";
import type { Condition } from "../../src/knowledge/condition.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import type { Measures } from "../../src/measure/types.js";
import { type PublishedCase, visitOf } from "../cases/read-cases.js";
import type { CaseResult } from "../cases/run-cases.js";
import { healthyVisit } from "../cases/simulate.js";

export interface Alarms {
  /** Made-up healthy visits, and those among them with a line. */
  readonly healthy: { readonly visits: number; readonly alarmed: number };
  /** Published cases: lines raised, those called for by the confirmed disorders, and those neither raised nor asked for. */
  readonly cases: Count;
  /** The same for taught pictures, which others wrote with more in them that distracts. */
  readonly pictures: Count;
}

interface Count {
  readonly raised: number;
  readonly needed: number;
  readonly missed: readonly string[];
}

const NO_MEASURES: Measures = { measured: [], notMeasured: [], rules: [] };
const OF_MEDICINES = [
  "anagen-effluvium",
  "radiation-alopecia",
  "egfr-inhibitor-scalp",
  "tnf-inhibitor-scalp",
  "endocrine-therapy-hair-loss",
  "retinoid-hair-loss",
];
/** Disorders of the scalp that may be part of one of the whole body. */
const OF_THE_BODY = [
  "chronic-graft-versus-host-disease",
  "scalp-dermatomyositis",
  "scalp-pemphigoid",
  "scalp-pemphigus",
  "scalp-sarcoidosis",
];
/** Lines that a disorder calls for where something is told besides. */
const ALSO: readonly {
  readonly of: readonly string[];
  readonly told: FactId[];
  readonly unless?: Condition;
  readonly line: string;
}[] = [
  { of: ["tinea-capitis"], told: ["boggy-swelling"], line: "kerion" },
  {
    of: ["tinea-capitis"],
    told: ["steroid-medicine"],
    unless: { tested: ["fungal"] },
    line: "steroid-on-infection",
  },
  {
    of: ["tinea-capitis", "syphilitic-alopecia"],
    told: ["immune-suppressant-medicine"],
    line: "immune-suppression",
  },
  {
    of: ["anagen-effluvium"],
    told: ["antimetabolite-medicine", "colchicine-medicine"],
    line: "drug-toxicity",
  },
];
/** What a clinician may write of a scalp with nothing wrong. */
const STORIES = [
  "Wants to know whether her hair is thinning.",
  "Came with her sister, who has alopecia areata. No complaint of her own.",
  "Mole check; the scalp was looked at in passing. No sore, nothing growing.",
  "Washes daily. No itch, no pain, no scale. Sleeps well.",
  "Father bald at forty. Sheds as ever.",
  "",
];

export function countAlarms(read: ReadonlyMap<PublishedCase, CaseResult>, visits: number): Alarms {
  const knowledge = loadKnowledge();
  const healthy = Array.from({ length: visits }, (_, i) => {
    const { visit } = healthyVisit(`healthy ${i}`, i % 2 === 1, knowledge);
    const story = STORIES[i % STORIES.length] ?? "";
    const told = { ...visit, history: { ...visit.history, ...(story ? { notes: story } : {}) } };
    return interpret(told, NO_MEASURES, knowledge).mustNotMiss.length > 0;
  });
  const all = [...read];
  return {
    healthy: { visits, alarmed: healthy.filter(Boolean).length },
    cases: countOf(
      all.filter(([c]) => c.grade !== "taught"),
      knowledge,
    ),
    pictures: countOf(
      all.filter(([c]) => c.grade === "taught"),
      knowledge,
    ),
  };
}

function countOf(cases: readonly (readonly [PublishedCase, CaseResult])[], knowledge: Knowledge): Count {
  let raised = 0;
  let needed = 0;
  const missed: string[] = [];
  for (const [one, { mustNotMiss: lines, askedFor: asked }] of cases) {
    const { visit, measures } = visitOf(one, knowledge);
    const facts = factsOf(visit, measures, knowledge);
    const wanted = one.confirmed.flatMap((id) => [
      ...calledFor(id, one.patient.age ?? undefined, knowledge),
      ...ALSO.flatMap((a) =>
        a.of.includes(id) && holds({ fact: a.told }, facts) && !(a.unless && holds(a.unless, facts))
          ? [a.line]
          : [],
      ),
    ]);
    raised += lines.length;
    needed += new Set(wanted).size;
    // A question put to the clinician meets what no line need raise: diffuse loss may be syphilis, and mostly is not.
    const met = (id: string) =>
      lines.includes(id) ||
      (id === "skin-cancer" && lines.includes("malignancy")) ||
      (id === "syphilis" && asked.includes("syphilis-signs"));
    missed.push(...wanted.filter((id) => !met(id)).map((id) => `${one.id}: ${id}`));
  }
  return { raised, needed, missed: [...new Set(missed)].sort() };
}

function calledFor(id: string, age: number | undefined, knowledge: Knowledge): string[] {
  const ofTheBody = OF_THE_BODY.includes(id) ? ["disease-beyond-the-scalp"] : [];
  if (knowledge.disorders[id]?.family === "scarring") return ["scarring", ...ofTheBody];
  if (ofTheBody.length > 0) return ofTheBody;
  if (id === "follicular-mucinosis") return ["skin-lymphoma"];
  if (id === "tinea-capitis") return ["fungal-infection"];
  if (id === "syphilitic-alopecia") return ["syphilis"];
  if (id === "skin-cancer-of-the-scalp") return ["skin-cancer"];
  if (id === "alopecia-neoplastica") return ["malignancy"];
  if (OF_MEDICINES.includes(id)) return ["drug-cause"];
  return id === "trichotillomania" && age !== undefined && age < 18 ? ["hair-pulling-child"] : [];
}

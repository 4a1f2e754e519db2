/** Made-up visits drawn from published frequencies: healthy scalps, and scalps with one or two disorders. Seeded; invented people. */
import { type Draws, seededDraws } from "../../src/base/draws.js";
import { cellsFor } from "../../src/interpret/cells.js";
import { factsOf } from "../../src/interpret/facts.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import type { Measures } from "../../src/measure/types.js";
import { type Amount, type FindingSeen, PHOTOTYPES, type Region, type Visit } from "../../src/visit/visit.js";
import { visit } from "../measure/visit-for-tests.js";

const NO_MEASURES: Measures = { measured: [], notMeasured: [], rules: [] };
const REGIONS: readonly Region[] = ["frontal", "vertex", "left temporal", "occipital"];
/** Someone who has a finding shows it at a further site this often: sites of one scalp are alike. */
const AT_EACH_SITE = 0.6;
const MOST_LOOKED_FOR = 20;

export interface Simulated {
  readonly visit: Visit;
  /** Disorders behind the picture; none for a healthy scalp. */
  readonly truth: readonly string[];
}

/** A visit of someone with nothing wrong: only findings that a study counted on healthy scalps are ever present. */
export function healthyVisit(seed: string, absences: boolean, knowledge: Knowledge): Simulated {
  const draws = seededDraws(seed);
  const bare = bareVisit(seed, draws);
  const cells = cellsFor(factsOf(bare, NO_MEASURES, knowledge));
  const has = Object.keys(knowledge.healthy).filter((finding) => {
    const { healthy } = cells.row(finding, "present", undefined);
    return knowledge.findings[finding] && !healthy.byDefault && draws.uniform() < healthy.mean;
  });
  const ungraded: readonly string[] = knowledge.weighing.healthy.any_amount;
  const amountOf = (finding: string): Amount => {
    const at = draws.uniform();
    if (ungraded.includes(finding)) return at < 0.3 ? "few" : at < 0.7 ? "several" : "many";
    return at < 0.35 ? "single" : at < 0.9 ? "few" : "several";
  };
  return { visit: examined(bare, has, amountOf, absences, draws, knowledge), truth: [] };
}

/** A visit of someone with these disorders: the first two sites show the first, the others the second where there are two. */
export function disorderVisit(
  seed: string,
  truth: readonly string[],
  absences: boolean,
  knowledge: Knowledge,
): Simulated {
  const draws = seededDraws(seed);
  const bare = bareVisit(seed, draws);
  const cells = cellsFor(factsOf(bare, NO_MEASURES, knowledge));
  const amountOf = (): Amount => {
    const at = draws.uniform();
    return at < 0.1 ? "single" : at < 0.35 ? "few" : at < 0.75 ? "several" : "many";
  };
  const places = truth.length > 1 ? [REGIONS.slice(0, 2), REGIONS.slice(2)] : [REGIONS.slice(0, 3)];
  const sites = truth.flatMap((disorder, i) => {
    const d = cells.disorders.indexOf(disorder);
    const has = Object.keys(knowledge.disorders[disorder]?.evidence ?? {}).filter((finding) => {
      const cell = cells.row(finding, "present", undefined).cells[d];
      return cell && !cell.byDefault && draws.uniform() < cell.mean;
    });
    return examined(bare, has, amountOf, absences, draws, knowledge, places[i]).sites;
  });
  const loss = { ...bare, reason: "Hair loss", sites };
  return { visit: loss, truth };
}

function examined(
  bare: Visit,
  has: readonly string[],
  amountOf: (finding: string) => Amount,
  absences: boolean,
  draws: Draws,
  knowledge: Knowledge,
  regions: readonly Region[] = REGIONS,
): Visit {
  const lookedFor = absences
    ? Object.keys(knowledge.findings)
        .filter((id) => !has.includes(id))
        .filter(() => draws.uniform() < MOST_LOOKED_FOR / Object.keys(knowledge.findings).length)
    : [];
  const first = new Map(has.map((finding) => [finding, Math.floor(draws.uniform() * regions.length)]));
  const sites = regions.map((site, i) => {
    const findings = has
      .filter((finding) => first.get(finding) === i || draws.uniform() < AT_EACH_SITE)
      .map((finding): FindingSeen => ({ finding, seen: { state: "present", amount: amountOf(finding) } }));
    const absent = lookedFor.map((finding): FindingSeen => ({ finding, seen: { state: "absent" } }));
    return { site, findings: [...findings, ...absent], fields: [], diametersUm: [], photos: [] };
  });
  return { ...bare, sites };
}

function bareVisit(seed: string, draws: Draws): Visit {
  const age = 3 + Math.floor(draws.uniform() * 75);
  return visit({
    id: seed,
    date: "2026-06-15",
    status: "draft",
    seenBy: "simulation",
    reason: "",
    patient: {
      id: seed,
      name: { given: "Made", family: "Up" },
      born: `${2026 - age}-01-15`,
      sex: draws.uniform() < 0.5 ? "female" : "male",
      phototype: PHOTOTYPES[Math.floor(draws.uniform() * PHOTOTYPES.length)] ?? "III",
      address: [],
      language: "en-GB",
      largePrint: false,
    },
  });
}

/** Visit -> Measures: works every score over what the visit holds, and sets each value against published normals. */
import type { Normal } from "../knowledge/normals-schema.js";
import type { Knowledge, Score } from "../knowledge/schema.js";
import type { Visit } from "../visit/visit.js";
import { readNormals, withNormal } from "./normals.js";
import { recordedModule } from "./recorded.js";
import { SCORES } from "./registry.js";
import type { Collected, Place, ScoreModule } from "./score-module.js";
import type { Measured, Measures, NotMeasured, RuleResult } from "./types.js";

/**
 * All numbers the visit implies. What could not be made is listed with what it lacked; nothing is ever shown as zero for
 * want of a count. Throws only when a shipped score file does not fit its module.
 */
export function measure(visit: Visit, knowledge: Knowledge): Measures {
  const measured: Measured[] = [];
  const notMeasured: NotMeasured[] = [];
  const rules: RuleResult[] = [];
  const { normals, scores } = readyFrom(knowledge);
  for (const { module, score, table } of scores) {
    for (const collected of module.collect(visit, table, knowledge)) {
      const made = computeOne(module, collected, table, score);
      measured.push(...made.measured.map((m) => withNormal(m, visit, normals)));
      notMeasured.push(...made.notMeasured);
      rules.push(...made.rules);
    }
  }
  return { measured, notMeasured, rules };
}

interface Ready {
  readonly normals: readonly Normal[];
  readonly scores: readonly { module: ScoreModule<object>; score: Score; table: object }[];
}

/** The modules that work something out, then one for each score that is recorded as it stands. */
export function modulesOf(knowledge: Knowledge): readonly ScoreModule<object>[] {
  return [...SCORES, ...Object.values(knowledge.scores).flatMap((score) => recordedModule(score) ?? [])];
}

const readyByKnowledge = new WeakMap<Knowledge, Ready>();

/** Ranges and score tables, checked once and not for every visit. */
function readyFrom(knowledge: Knowledge): Ready {
  let ready = readyByKnowledge.get(knowledge);
  if (!ready) {
    const scores = modulesOf(knowledge).flatMap((module) => {
      const score = knowledge.scores[module.id];
      return score ? [{ module, score, table: module.table.parse(score) }] : [];
    });
    ready = { normals: readNormals(knowledge), scores };
    readyByKnowledge.set(knowledge, ready);
  }
  return ready;
}

/** One place worked: what a module gives, with place, words and standing filled in from its knowledge file. */
export function computeOne(
  module: ScoreModule<object>,
  collected: Collected<object>,
  table: object,
  score: Score,
): Measures {
  const place: Place = {
    ...(collected.site === undefined ? {} : { site: collected.site }),
    ...(collected.siteIndex === undefined ? {} : { siteIndex: collected.siteIndex }),
  };
  const common = {
    id: score.id,
    term: score.term,
    ...place,
    source: score.source,
    fromMemory: score.how === "memory",
  };
  if ("missing" in collected) {
    const { id = score.id, term = score.term, missing } = collected;
    return { measured: [], rules: [], notMeasured: [{ id, term, ...place, missing }] };
  }
  const worked = module.compute(collected.inputs, table, score);
  return {
    measured: (worked.measured ?? []).map((m) => ({ ...common, ...m })),
    rules: (worked.rules ?? []).map((r) => ({ ...common, ...r })),
    notMeasured: (worked.missing ?? []).map(({ id = score.id, term = score.term, missing }) => ({
      id,
      term,
      ...place,
      missing,
    })),
  };
}

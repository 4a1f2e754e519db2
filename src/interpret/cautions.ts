/** Cautions that apply to a visit, and what must not be missed while the evidence does not exclude it. */
import type { Caution } from "../knowledge/schema.js";
import { holds } from "./conditions.js";
import type { Facts } from "./facts.js";
import type { AppliedCaution, MustNotMiss } from "./interpretation.js";

/** Cautions in order of id: those that always stand, those whose condition holds, those of a recorded impression. */
export function cautionsOf(facts: Facts): AppliedCaution[] {
  return applying(facts).map(({ id, doctor, patient, clinician, source }) => ({
    id,
    ...(doctor ? { doctor } : {}),
    ...(patient ? { patient } : {}),
    ...(clinician ? { clinician } : {}),
    source,
  }));
}

/** Lines raised by the condition alone, whatever leads; each with whether a test, finding or plan line answers it. */
export function mustNotMiss(facts: Facts): MustNotMiss[] {
  return Object.values(facts.knowledge.cautions).flatMap((caution) => {
    const raised = caution.must_not_miss;
    if (!raised || !caution.when || !holds(caution.when, facts)) return [];
    return [
      {
        id: raised.id,
        caution: caution.id,
        why: raised.why,
        answeredByPlan: raised.answered_by ? holds(raised.answered_by, facts) : false,
      },
    ];
  });
}

/** Cautions of this visit that a plan line goes against. */
export function contradicted(facts: Facts): { caution: Caution; says: string }[] {
  // Few plan lines go against anything, so that is asked first.
  const against = Object.values(facts.knowledge.cautions).flatMap((caution) =>
    caution.contradicted_by && holds(caution.contradicted_by.when, facts)
      ? [{ caution, says: caution.contradicted_by.says }]
      : [],
  );
  if (against.length === 0) return [];
  const standing = new Set(applying(facts));
  return against.filter(({ caution }) => standing.has(caution));
}

function applying(facts: Facts): Caution[] {
  const byImpression = new Set(
    facts.visit.impression
      .filter((i) => i.certainty !== "excluded")
      .flatMap((i) => facts.knowledge.disorders[i.disorder]?.cautions ?? []),
  );
  return Object.values(facts.knowledge.cautions).filter(
    (c) => c.always || byImpression.has(c.id) || (c.when !== undefined && holds(c.when, facts)),
  );
}

/** Cautions that apply to a visit, what must not be missed in it and what closed that, and the red flags that nobody asked. */
import type { LineId } from "../base/ids.js";
import { URGENCIES } from "../knowledge/facts-schema.js";
import type { Caution } from "../knowledge/schema.js";
import { heldImpressions } from "../visit/held.js";
import type { Urgency } from "../visit/visit.js";
import { clauses, mentionsAny, phraseOf } from "./clauses.js";
import { holds } from "./conditions.js";
import type { Facts } from "./facts.js";
import { groundsOf } from "./grounds.js";
import type {
  AppliedCaution,
  AskedFor,
  Closing,
  Ground,
  Interpretation,
  MustNotMiss,
} from "./interpretation.js";

type Line = NonNullable<Caution["must_not_miss"]>;

/**
 * Cautions in order of id: those that always stand, those whose condition holds, those of a recorded impression. What a test with a
 * result has settled is not put to the clinician as something still to do.
 */
export function cautionsOf(facts: Facts): AppliedCaution[] {
  return applying(facts).map(({ id, doctor, patient, clinician, source, must_not_miss: line }) => ({
    id,
    ...(doctor ? { doctor } : {}),
    ...(patient ? { patient } : {}),
    ...(clinician && !(line && isTested(line, facts)) ? { clinician } : {}),
    source,
  }));
}

const isTested = (line: Line, facts: Facts): boolean =>
  line.tested !== undefined && holds(line.tested, facts);

/** Lines raised by the visit, the most urgent first; each with what raised it and what, if anything, closed it. */
export function mustNotMiss(facts: Facts): MustNotMiss[] {
  return Object.values(facts.knowledge.cautions)
    .flatMap((caution) => lineOf(caution, facts) ?? [])
    .toSorted((a, b) => URGENCIES.indexOf(a.urgency) - URGENCIES.indexOf(b.urgency));
}

/** Ids of the lines that nothing has closed: what no document may contradict. */
export function openLines(interpretation: Pick<Interpretation, "mustNotMiss">): string[] {
  return interpretation.mustNotMiss.filter((m) => m.closedBy === null).map((m) => m.id);
}

function lineOf(caution: Caution, facts: Facts): MustNotMiss | undefined {
  const line = caution.must_not_miss;
  if (!line || !caution.when) return undefined;
  const raised = holds(caution.when, facts);
  // What words raised and an answer of no settled is shown as settled, not left out.
  const before: Facts = { ...facts, unanswered: new Set(line.answers) };
  if (!raised && (line.answers.length === 0 || !holds(caution.when, before))) return undefined;
  const raisedBy = groundsOf(caution.when, raised ? facts : before);
  const closedBy = closingOf(line, facts, raised, raisedBy);
  return {
    id: line.id,
    caution: caution.id,
    why: line.why,
    urgency: urgencyOf(line, facts),
    who: line.who,
    raisedBy,
    closedBy,
    answeredByPlan: closedBy !== null,
  };
}

function urgencyOf(line: Line, facts: Facts): Urgency {
  const all = [line.urgency, ...line.faster.flatMap((f) => (holds(f.when, facts) ? [f.urgency] : []))];
  return URGENCIES.find((u) => all.includes(u)) ?? line.urgency;
}

/** A test with a result, an answer, a plan line that names the line, a refusal, or acceptance with a reason; never words. */
function closingOf(line: Line, facts: Facts, raised: boolean, raisedBy: readonly Ground[]): Closing | null {
  const { visit, knowledge } = facts;
  if (line.tested && isTested(line, facts)) {
    const done = groundsOf(line.tested, facts).find((g) => g.where?.startsWith("tests["));
    return { kind: "test", says: done?.says ?? "a recorded test" };
  }
  const reply = visit.plan.find((p) => p.answers?.includes(line.id));
  if (reply && !reply.declined) return { kind: "plan", says: reply.action };
  const denied = line.answers.filter((id) => holds({ fact: id, state: "no" }, facts));
  const softly = raisedBy.every((g) => g.kind === "words" || g.kind === "unasked");
  if (!raised || (denied.length > 0 && denied.length === line.answers.length && softly)) {
    const terms = denied.map((id) => `${knowledge.facts[id]?.term ?? id}: no`);
    if (terms.length > 0) return { kind: "answer", says: terms.join("; ") };
  }
  if (reply) return { kind: "declined", says: reply.action };
  const accepted = [`must-not-miss-open:${line.id}`, "must-not-miss-open"].flatMap((id) =>
    visit.accept.filter((a) => a.id === id),
  )[0];
  return accepted ? { kind: "accepted", says: accepted.reason } : null;
}

/** Plan lines whose words may answer a line, though they do not name it. */
export function mayAnswer(id: LineId, facts: Facts): string[] {
  const caution = Object.values(facts.knowledge.cautions).find((c) => c.must_not_miss?.id === id);
  const phrases = (caution?.must_not_miss?.plan_words ?? []).map(phraseOf);
  const { denial } = facts.knowledge.weighing;
  return facts.visit.plan.flatMap(({ action }) =>
    mentionsAny(clauses(action, denial), phrases, denial) ? [action] : [],
  );
}

/** Red flags that the visit calls for, or names in passing, and that neither an answer nor a test has settled, the most urgent first. */
export function askedFor(facts: Facts): AskedFor[] {
  const settled = new Set(
    Object.values(facts.knowledge.cautions).flatMap(({ must_not_miss: line }) =>
      line && isTested(line, facts) ? line.answers : [],
    ),
  );
  return Object.values(facts.knowledge.facts)
    .flatMap((fact): AskedFor[] => {
      const { question, urgency, called_for: called } = fact;
      if (!question || !urgency || facts.stated.has(fact.id) || settled.has(fact.id)) return [];
      if (called && holds(called.when, facts)) return [{ id: fact.id, question, urgency, why: called.why }];
      const named = facts.reads().find((r) => r.fact === fact.id && r.state === "harmless")?.words;
      return named ? [{ id: fact.id, question, urgency, why: inPassing(named), named }] : [];
    })
    .toSorted((a, b) => URGENCIES.indexOf(a.urgency) - URGENCIES.indexOf(b.urgency));
}

/** Why a question is put whose danger the words name in a way that sounds harmless. */
const inPassing = (words: string): string => `The record says “${words}”, in passing as it seems.`;

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
    heldImpressions(facts.visit).flatMap((i) => facts.knowledge.disorders[i.disorder]?.cautions ?? []),
  );
  return Object.values(facts.knowledge.cautions).filter(
    (c) => c.always || byImpression.has(c.id) || (c.when !== undefined && holds(c.when, facts)),
  );
}

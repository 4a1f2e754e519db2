/** A visit that has been weighed -> the little of it that open work and audit need. Plain data, so that it can be kept. */
import type { DisorderId } from "../base/ids.js";
import { holds } from "../interpret/conditions.js";
import { statedFacts } from "../interpret/fact-states.js";
import { factsOf } from "../interpret/facts.js";
import type { Agreement, AskedFor, Band, Interpretation, MustNotMiss } from "../interpret/interpret.js";
import type { Knowledge } from "../knowledge/schema.js";
import { dueDay } from "../letter/when.js";
import type { Measures } from "../measure/types.js";
import type { Sample } from "../visit/awaited.js";
import { type Identity, identityOf } from "../visit/same-patient.js";
import { isChangedSinceSigning } from "../visit/seal.js";
import type { Impression, PlanLine, Urgency, Visit } from "../visit/visit.js";

/** Raised when an extract of the same visit by the same knowledge becomes another. */
export const EXTRACT_EDITION = 4;

export interface Extract {
  readonly identity: Identity;
  /** Null for a draft; the moment is empty where the file tells none. */
  readonly signed: { readonly at: string; readonly edition: number } | null;
  /** True where the visit no longer says what was signed. */
  readonly changed: boolean;
  readonly lines: readonly SafetyLine[];
  /** Ids of must-not-miss lines that this visit closes, raised in it or not. */
  readonly closes: readonly string[];
  readonly unasked: readonly Pick<AskedFor, "id" | "question" | "urgency">[];
  /** Facts that have an answer here. */
  readonly answered: readonly string[];
  readonly tests: readonly Sample[];
  readonly asks: readonly Asked[];
  readonly followUpWeeks: number | null;
  /** Who is written to. */
  readonly recipients: readonly string[];
  readonly weighed: Weighed;
}

export interface SafetyLine {
  readonly id: string;
  readonly why: string;
  readonly urgency: Urgency;
  readonly who: string;
  readonly open: boolean;
}

/** Something that is asked of somebody other than clinic and patient. */
export interface Asked {
  readonly who: string;
  readonly action: string;
  /** ISO date, where a day or a span was written. */
  readonly by?: string;
  readonly urgency?: Urgency;
}

/** For the audit: what was recorded, what the findings supported, and what a test of this visit proved. */
export interface Weighed {
  readonly impression: readonly Pick<Impression, "disorder" | "certainty">[];
  readonly leading: { readonly id: DisorderId; readonly band: Band } | null;
  readonly verdict: Agreement["verdict"];
  /** Disorders that a test of this visit names. */
  readonly proven: readonly string[];
  /** Findings that would matter and were never assessed. */
  readonly notAssessed: readonly string[];
}

export function extractOf(
  visit: Visit,
  measures: Measures,
  interpretation: Interpretation,
  knowledge: Knowledge,
): Extract {
  const facts = factsOf(visit, measures, knowledge);
  const { mustNotMiss } = interpretation;
  return {
    identity: identityOf(visit),
    signed:
      visit.status === "signed" ? { at: visit.signed?.at ?? "", edition: visit.signed?.edition ?? 1 } : null,
    changed: isChangedSinceSigning(visit),
    lines: mustNotMiss.map(safetyLine),
    closes: closedIn(visit, mustNotMiss, (when) => holds(when, facts), knowledge),
    unasked: interpretation.askedFor.map(({ id, question, urgency }) => ({ id, question, urgency })),
    answered: [...statedFacts(visit, knowledge).keys()],
    tests: visit.tests.map(sampleOf),
    asks: visit.plan.flatMap((line) => askedOf(line, visit.date)),
    followUpWeeks: visit.followUp?.weeks ?? null,
    recipients: visit.sendTo.map(({ name }) => name),
    weighed: {
      impression: visit.impression.map(({ disorder, certainty }) => ({ disorder, certainty })),
      leading: leadingOf(interpretation),
      verdict: interpretation.agreement.verdict,
      proven: provenBy(interpretation),
      notAssessed: interpretation.notAssessed,
    },
  };
}

function safetyLine({ id, why, urgency, who, closedBy }: MustNotMiss): SafetyLine {
  return { id, why, urgency, who, open: closedBy === null };
}

/** A line may be raised at one visit and closed at the next, where nothing raises it any more. */
function closedIn(
  visit: Visit,
  mustNotMiss: readonly MustNotMiss[],
  isSo: (when: Parameters<typeof holds>[0]) => boolean,
  knowledge: Knowledge,
): string[] {
  const raised = mustNotMiss.flatMap((m) => (m.closedBy ? [m.id] : []));
  const planned = visit.plan.flatMap((p) => p.answers ?? []);
  const accepted = visit.accept.flatMap(({ id }) => /^must-not-miss-open:(.+)$/u.exec(id)?.[1] ?? []);
  const tested = Object.values(knowledge.cautions).flatMap(({ must_not_miss: line }) =>
    line?.tested && isSo(line.tested) ? [line.id] : [],
  );
  const stillOpen = new Set(mustNotMiss.flatMap((m) => (m.closedBy ? [] : [m.id])));
  return [...new Set([...raised, ...planned, ...accepted, ...tested])]
    .filter((id) => !stillOpen.has(id))
    .sort();
}

function sampleOf({ name, value, result, date, resultOf }: Visit["tests"][number]): Sample {
  return {
    name,
    ...(value === undefined ? {} : { value }),
    ...(result === undefined ? {} : { result }),
    ...(date === undefined ? {} : { date }),
    ...(resultOf === undefined ? {} : { resultOf }),
  };
}

/** Words for the clinic's own people, the patient and those who come with them: nobody owes the clinic an answer for those. */
const NOT_OTHERS =
  /^(?:(?:the |our |this )?clinic|we|us|desk|(?:the )?(?:examining )?clinician|(?:the )?patient|parents?|mother|father|guardian|carer|family)$/iu;

/** Words by which nothing is asked, as long as no request follows them. */
const ASKS_NOTHING =
  /^(?:no (?:further |new |other )?(?:action|change)s?|nothing(?: further| new| else)?)\b[^.;]*\b(?:needed|required|asked)\b(?!.*\bplease\b)/iu;

function askedOf(line: PlanLine, date: string): Asked[] {
  const { who, action, urgency, declined } = line;
  if (declined || NOT_OTHERS.test(who.trim()) || ASKS_NOTHING.test(action.trim())) return [];
  const by = dueDay(line, date);
  return [{ who, action, ...(by ? { by } : {}), ...(urgency ? { urgency } : {}) }];
}

function leadingOf({ disorders }: Interpretation): Weighed["leading"] {
  const [first] = disorders;
  return first ? { id: first.id, band: first.band } : null;
}

/**
 * Natural-log weight from which a test is taken to name a disorder. Of the tests of the knowledge those that "outrank dermoscopy"
 * or by which histology names a disorder weigh so much; the rest only lean. Our own limit, no source.
 */
const NAMES = 4;

function provenBy({ disorders }: Interpretation): string[] {
  return disorders
    .filter((d) => d.for.some((r) => r.kind === "test" && r.weight >= NAMES))
    .map(({ id }) => id)
    .sort();
}

/** Which sentences of the knowledge a document may say: those true of this visit, and none that another, or an open line, contradicts. */
import { holds } from "../interpret/conditions.js";
import { factsOf } from "../interpret/facts.js";
import {
  type Circumstances,
  circumstancesOf,
  type Meaning,
  meaningRule,
  type Sentence,
  wordsOf,
} from "../knowledge/sentence.js";
import type { FactsInput } from "./facts-input.js";

/** Chooses sentences for one document; ask it in the order in which they are printed. */
export interface Chooser {
  sentences(all: readonly Sentence[]): string[];
  /** For a text with circumstances of another shape, such as a sign that calls for help. */
  mayTell(circumstances: Circumstances): boolean;
}

/** `candidates` holds the circumstances of every sentence the document might say. */
export function chooser(input: FactsInput, candidates: readonly Circumstances[]): Chooser {
  const facts = factsOf(input.visit, input.measures, input.knowledge);
  const open = new Set(input.interpretation.mustNotMiss.filter(isOpen).map((line) => line.id));
  const occasions = new Set([
    input.change ? "later visit" : "first visit",
    ...(input.visit.followUp ? ["next visit planned"] : []),
  ]);
  const isTrue = ({ tells, when, on }: Circumstances) =>
    (on === undefined || occasions.has(on)) &&
    (when === undefined || holds(when, facts)) &&
    !tells.some((meaning) => isContradicted(meaning, open));
  const beside = new Set(candidates.filter(isTrue).flatMap((c) => c.tells));
  const said = new Set<Meaning>();
  const mayTell = (c: Circumstances) => {
    const fits = (meaning: Meaning) =>
      !meaningRule(meaning).notBeside?.some((other) => beside.has(other as Meaning)) &&
      !(meaningRule(meaning).once && said.has(meaning));
    if (!isTrue(c) || !c.tells.every(fits)) return false;
    for (const meaning of c.tells) said.add(meaning);
    return true;
  };
  return {
    mayTell,
    sentences: (all) => all.filter((s) => mayTell(circumstancesOf(s))).map(wordsOf),
  };
}

function isContradicted(meaning: Meaning, open: ReadonlySet<string>): boolean {
  const { notWhileOpen, whileNoneOpen } = meaningRule(meaning);
  return (whileNoneOpen === true && open.size > 0) || (notWhileOpen ?? []).some((line) => open.has(line));
}

/** A plan or a refusal does not settle what a test, an answer or the clinician's acceptance would. */
function isOpen(line: {
  readonly answeredByPlan: boolean;
  readonly closedBy?: { readonly kind: string } | null;
}): boolean {
  return !line.closedBy || ["plan", "declined"].includes(line.closedBy.kind);
}

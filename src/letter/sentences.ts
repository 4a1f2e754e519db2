/** Which sentences of the knowledge a document may say: those true of this visit, and none that another, or an open line, contradicts. */
import { openLines } from "../interpret/cautions.js";
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
import { haveEnded } from "./ended-medicines.js";
import type { FactsInput } from "./facts-input.js";
import { namedImpressions } from "./named.js";

/** Chooses sentences for one document; ask it in the order in which they are printed. */
export interface Chooser {
  sentences(all: readonly Sentence[]): string[];
  /** For a text with circumstances of another shape, such as a sign that calls for help. */
  mayTell(circumstances: Circumstances): boolean;
}

/** What a handout of this visit may say of the disorders it names, and the cautions beside it. */
export function handoutChooser(input: FactsInput): Chooser {
  const { visit, knowledge, interpretation } = input;
  const named = namedImpressions(visit).flatMap((i) => knowledge.disorders[i.disorder]?.patient ?? []);
  const cautions = interpretation.cautions.flatMap((c) => knowledge.cautions[c.id] ?? []);
  return chooser(input, [
    ...named.flatMap((p) =>
      [...p.is, ...p.means, ...(input.change ? [] : p.next), ...p.ask].map(circumstancesOf),
    ),
    ...named.flatMap((p) => p.help),
    ...cautions.flatMap((c) => [
      ...(c.patient_also ?? []).map(circumstancesOf),
      { tells: c.patient_tells ?? [] },
    ]),
  ]);
}

/** `candidates` holds the circumstances of every sentence the document might say. */
function chooser(input: FactsInput, candidates: readonly Circumstances[]): Chooser {
  const facts = {
    ...factsOf(input.visit, input.measures, input.knowledge),
    openLines: openLines(input.interpretation),
  };
  const lines = input.interpretation.mustNotMiss;
  const occasions = new Set([
    input.change ? "later visit" : "first visit",
    input.visit.followUp ? "next visit planned" : "no visit planned",
  ]);
  const isTrue = ({ tells, when, on, unless_ended: classes }: Circumstances) =>
    (on === undefined || occasions.has(on)) &&
    !(classes && haveEnded(facts, classes)) &&
    !(tells.some((meaning) => meaningRule(meaning).whileTaken) && haveEnded(facts)) &&
    (when === undefined || holds(when, facts)) &&
    !tells.some((meaning) => isContradicted(meaning, lines));
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

interface Line {
  readonly id: string;
  readonly answeredByPlan: boolean;
  readonly closedBy?: { readonly kind: string } | null;
}

function isContradicted(meaning: Meaning, lines: readonly Line[]): boolean {
  const { notWhileOpen = [], whileNoneOpen, planSettles } = meaningRule(meaning);
  const open = lines.filter((line) => (planSettles ? !line.answeredByPlan : isUnsettled(line)));
  return whileNoneOpen ? open.length > 0 : open.some((line) => notWhileOpen.includes(line.id));
}

/** A plan or a refusal does not settle what a test, an answer or the clinician's acceptance would. */
export function isUnsettled({ closedBy }: Pick<Line, "closedBy">): boolean {
  return !closedBy || closedBy.kind === "plan" || closedBy.kind === "declined";
}

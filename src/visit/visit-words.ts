/** The words of a visit file that come from the knowledge files. */
import type { DisorderId, FactId, FindingId, LineId } from "../base/ids.js";
import type { Fact, Knowledge } from "../knowledge/schema.js";
import { REGIONS, type Region } from "./terms.js";
import { plainWords, type Vocabulary, vocabulary } from "./vocabulary.js";

export interface VisitWords {
  readonly findings: Vocabulary<FindingId>;
  readonly disorders: Vocabulary<DisorderId>;
  /** Ids of the must-not-miss lines. */
  readonly hazards: Vocabulary<LineId>;
  readonly regions: Vocabulary<Region>;
  /** Facts by the key that takes them; `asked` takes red flags and questions of the history. */
  readonly asked: Vocabulary<FactId>;
  readonly exposures: Vocabulary<FactId>;
  readonly patterns: Vocabulary<FactId>;
  readonly signs: Vocabulary<FactId>;
  readonly scores: Vocabulary;
  /** Inputs of each score by score id. */
  readonly scoreInputs: Readonly<Record<string, Knowledge["scores"][string]["inputs"]>>;
}

const made = new WeakMap<Knowledge, VisitWords>();

/** The vocabularies of a knowledge folder, made once. */
export function visitWords(knowledge: Knowledge): VisitWords {
  const known = made.get(knowledge);
  if (known) return known;
  const regionWords = new Map(Object.entries(knowledge.regions).map(([key, value]) => [key, value.also]));
  const facts = (what: string, ...kinds: Fact["kind"][]) =>
    vocabulary(
      what,
      Object.values(knowledge.facts).filter((fact) => kinds.includes(fact.kind)),
    );
  const scores = Object.values(knowledge.scores);
  const words: VisitWords = {
    findings: vocabulary("a finding", Object.values(knowledge.findings)),
    disorders: vocabulary("a disorder", Object.values(knowledge.disorders)),
    hazards: plainWords("the id of a must-not-miss line", hazardIds(knowledge)),
    regions: vocabulary(
      "a region of the scalp",
      REGIONS.map((id) => ({
        id,
        term: id,
        also: regionWords.get(id) ?? regionWords.get(id.replaceAll(" ", "-")) ?? [],
      })),
    ),
    asked: facts("a question of the facts catalogue", "red flag", "history"),
    exposures: facts("an exposure", "exposure"),
    patterns: facts("a pattern of hair loss", "pattern"),
    signs: facts("a sign of the facts catalogue", "sign"),
    scores: vocabulary("a score", scores),
    scoreInputs: Object.fromEntries(scores.map((score) => [score.id, score.inputs])),
  };
  made.set(knowledge, words);
  return words;
}

function hazardIds(knowledge: Knowledge): LineId[] {
  const ids = Object.values(knowledge.cautions).flatMap((caution) => caution.must_not_miss?.id ?? []);
  return [...new Set(ids)].sort();
}

/** No words at all, for what the tables of keys say without them. */
const NO: Vocabulary = plainWords("a word", []);
export const NO_WORDS: VisitWords = {
  findings: NO,
  disorders: NO,
  hazards: NO,
  regions: plainWords("a region of the scalp", REGIONS),
  asked: NO,
  exposures: NO,
  patterns: NO,
  signs: NO,
  scores: NO,
  scoreInputs: {},
};

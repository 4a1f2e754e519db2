/**
 * How a passage speaks that names a danger: of one, or in passing. Every word, and every two in a row, of the sentence and of those beside it
 * weighs, as lines of both kinds have taught (`manner` in `src/knowledge/told.yaml`). What sounds harmless raises no line; it is asked.
 */
import type { Told } from "../../knowledge/told-schema.js";
import { countsHours, type Urgency } from "../../knowledge/urgency.js";
import type { Sentence } from "./tokens.js";

/** Sentences on either side that belong to the passage. */
const BESIDE = 1;

/** The words of some sentences, and every two in a row, each once and without their endings. */
export function turnsOf(sentences: readonly Sentence[]): ReadonlySet<string> {
  return new Set(
    sentences.flatMap((s) =>
      s.flatMap(({ stem }, i) => {
        const next = s[i + 1];
        return next ? [stem, `${stem}_${next.stem}`] : [stem];
      }),
    ),
  );
}

/** The sentence at `at`, and those beside it. */
export const passageAt = (text: readonly Sentence[], at: number): readonly Sentence[] =>
  text.slice(Math.max(0, at - BESIDE), at + BESIDE + 1);

const weights = new WeakMap<object, ReadonlyMap<string, number>>();

function weightsOf(manner: NonNullable<Told["manner"]>): ReadonlyMap<string, number> {
  let known = weights.get(manner);
  if (!known) {
    known = new Map(
      Object.entries(manner.words).flatMap(([weight, turns]) =>
        turns.split(" ").map((turn) => [turn, Number(weight)] as const),
      ),
    );
    weights.set(manner, known);
  }
  return known;
}

/** True when the passage round a sentence is told as what is harmless is told; where hours count, or nobody said, it must sound so more clearly. */
export function soundsHarmless(
  text: readonly Sentence[],
  at: number,
  urgency: Urgency | undefined,
  manner: Told["manner"],
): boolean {
  if (!manner) return false;
  const of = weightsOf(manner);
  let sum = manner.base;
  for (const turn of turnsOf(passageAt(text, at))) sum += of.get(turn) ?? 0;
  return sum < (urgency === undefined || countsHours(urgency) ? manner.urgent : manner.other);
}

/**
 * How a passage speaks that names a danger: of one, or in passing. Every word, and every two in a row, that is said with it or after it
 * weighs, as lines of both kinds have taught (`manner` in `src/knowledge/told.yaml`). What sounds harmless raises no line; it is asked.
 */
import type { Told } from "../../knowledge/told-schema.js";
import { countsHours, type Urgency } from "../../knowledge/urgency.js";
import type { Sentence } from "./tokens.js";

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

/** Where the words stand that name the danger: their sentence, and from which character to which. */
export interface Named {
  readonly sentence: number;
  readonly start: number;
  readonly end: number;
}

/**
 * What is said with the words that name a danger and after them: the rest of their part of the sentence, the parts that follow, and the next
 * sentence. What stands before says nothing of it: `well for years - now wishes not to wake up`.
 */
export function passageOf(text: readonly Sentence[], { sentence, start, end }: Named): readonly Sentence[] {
  const own = text[sentence] ?? [];
  const part = own.find((t) => t.start >= start)?.part ?? 0;
  const before = own.filter((t) => t.part >= part && t.start < start);
  const next = text[sentence + 1];
  return [before, own.filter((t) => t.start >= end), ...(next ? [next] : [])];
}

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

/**
 * True when the words of a danger stand in a passage that is told as what is harmless is told. Where hours count, or nobody said how fast
 * it matters, it must sound so more clearly; what cannot wait until the patient has left is never taken so.
 */
export function soundsHarmless(
  text: readonly Sentence[],
  named: Named,
  urgency: Urgency | undefined,
  manner: Told["manner"],
): boolean {
  if (!manner || urgency === "now") return false;
  const of = weightsOf(manner);
  let sum = manner.base;
  for (const turn of turnsOf(passageOf(text, named))) sum += of.get(turn) ?? 0;
  return sum < (urgency === undefined || countsHours(urgency) ? manner.urgent : manner.other);
}

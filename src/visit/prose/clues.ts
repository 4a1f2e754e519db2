/** Words that only hint at a fact: clues of two kinds in one visit speak for it, one alone says nothing. */
import type { FactId } from "../../base/ids.js";
import type { Fact, Knowledge } from "../../knowledge/schema.js";
import type { Meant } from "./scopes.js";

/** One fact as the words put it. */
export interface ReadFact {
  readonly fact: FactId;
  /** `harmless`: the passage that names it sounds as if it spoke of no danger. */
  readonly state: Exclude<Meant, "only spoken of"> | "harmless";
  readonly where: string;
  /** The words themselves. */
  readonly words: string;
}

/** What a sentence says of a fact; with the kind of clue where it only hints at it. */
export type Read = ReadFact & { readonly clue?: string };

/** A clue that is another fact, as `#tender-scalp`. */
const OF_FACT = /^#(.+)$/u;

/** Wordings that hint, each with its kind of clue; those that are other facts left out. */
export const cluesIn = (fact: Fact): (readonly [clue: string, written: string])[] =>
  Object.entries(fact.hinted).flatMap(([clue, list]) =>
    list.filter((written) => !OF_FACT.test(written)).map((written) => [clue, written] as const),
  );

export const counts = (state: ReadFact["state"]): boolean => state === "present" || state === "doubtful";

interface Hinted {
  readonly fact: Fact;
  readonly clues: readonly (readonly [clue: string, list: readonly string[]])[];
}
const hinted = new WeakMap<Knowledge["facts"], readonly Hinted[]>();

/** The facts that have clues; most have none. */
function hintedOf(facts: Knowledge["facts"]): readonly Hinted[] {
  let known = hinted.get(facts);
  if (!known) {
    known = Object.values(facts).flatMap((fact) => {
      const clues = Object.entries(fact.hinted);
      return clues.length > 0 ? [{ fact, clues }] : [];
    });
    hinted.set(facts, known);
  }
  return known;
}

/** The readings, with what their clues come to: a fact hinted at by two kinds is left open, and each quotes its words. */
export function withClues(all: readonly Read[], facts: Knowledge["facts"]): ReadFact[] {
  const read = all.flatMap(({ clue, ...one }) => (clue === undefined ? [one] : []));
  const told = read.filter((r) => counts(r.state));
  const hints = hintedOf(facts).flatMap(({ fact, clues }): ReadFact[] => {
    if (told.some((r) => r.fact === fact.id)) return [];
    const kinds = clues.flatMap(([clue, list]): ReadFact[] => {
      const first =
        all.find((r) => r.fact === fact.id && r.clue === clue && counts(r.state)) ??
        told.find((r) => list.includes(`#${r.fact}`));
      return first ? [{ fact: fact.id, state: "doubtful", where: first.where, words: first.words }] : [];
    });
    // Two kinds that rest on the same words are one clue.
    return new Set(kinds.map((k) => `${k.where} ${k.words}`)).size > 1 ? kinds : [];
  });
  return [...read, ...hints];
}

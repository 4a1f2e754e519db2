/**
 * Red flags told in words that stand in no list: each word of a sentence weighs for or against a flag, as many lines have taught
 * (`src/knowledge/told.yaml`, tests/prose/told). Words that are denied, past or of another person weigh nothing.
 */
import type { Told } from "../../knowledge/told-schema.js";
import type { Match } from "./phrases.js";
import { type Moment, meantBy, type Scopes, triggersIn } from "./scopes.js";
import type { Sentence } from "./tokens.js";

/** A stem that weighs, with where it stands first. */
export interface Weighing {
  readonly stem: string;
  readonly at: number;
  readonly sentence: Sentence;
}

/** Words that may weigh: letters only, and more than one. */
const WEIGHS = /^\p{L}{2,}$/u;

/** The stems of a sentence that speak of the patient now, each once. */
export function weighingWords(sentence: Sentence, scopes: Scopes, moment: Moment): Weighing[] {
  const triggers = triggersIn(sentence, scopes);
  const seen = new Set<string>();
  return sentence.flatMap(({ stem }, at): Weighing[] => {
    if (seen.has(stem) || !WEIGHS.test(stem)) return [];
    const match: Match = { from: at, to: at, held: new Set([at]) };
    const meant = meantBy(match, sentence, triggers, scopes, moment, false);
    if (meant !== "present" && meant !== "doubtful") return [];
    seen.add(stem);
    return [{ stem, at, sentence }];
  });
}

/** Every sentence, and every two in a row: what is told may run over a full stop. */
export function windows<T>(sentences: readonly (readonly T[])[]): T[][] {
  return sentences.flatMap((one, i) => {
    const next = sentences[i + 1];
    return next ? [[...one], [...one, ...next]] : [[...one]];
  });
}

export interface ToldRead {
  readonly fact: string;
  /** First and last character of the words that weigh for it most, in the text. */
  readonly start: number;
  readonly end: number;
}

type ByStem = ReadonlyMap<string, readonly (readonly [fact: string, weight: number])[]>;

const ready = new WeakMap<Told, ByStem>();

function byStem(told: Told): ByStem {
  const known = ready.get(told);
  if (known) return known;
  const made = new Map<string, [string, number][]>();
  for (const [fact, { words }] of Object.entries(told.facts)) {
    for (const [weight, stems] of Object.entries(words)) {
      for (const stem of stems.split(" ")) {
        const list = made.get(stem);
        if (list) list.push([fact, Number(weight)]);
        else made.set(stem, [[fact, Number(weight)]]);
      }
    }
  }
  ready.set(told, made);
  return made;
}

/** The flags that the sentences of one text tell, each with the words that told it. */
export function toldIn(all: readonly Sentence[], told: Told, scopes: Scopes, moment: Moment): ToldRead[] {
  const weights = byStem(told);
  if (weights.size === 0) return [];
  const found = new Map<string, ToldRead>();
  for (const window of windows(all.map((s) => weighingWords(s, scopes, moment)))) {
    const sums = new Map<string, number>();
    const counted = new Set<string>();
    for (const { stem } of window) {
      if (counted.has(stem)) continue;
      counted.add(stem);
      for (const [fact, weight] of weights.get(stem) ?? []) sums.set(fact, (sums.get(fact) ?? 0) + weight);
    }
    for (const [fact, sum] of sums) {
      if (found.has(fact) || sum < (told.facts[fact]?.from ?? Number.POSITIVE_INFINITY)) continue;
      const speaking = window.filter(({ stem }) =>
        weights.get(stem)?.some(([of, weight]) => of === fact && weight >= SPEAKS),
      );
      const tokens = speaking.flatMap(({ sentence, at }) => sentence[at] ?? []);
      found.set(fact, {
        fact,
        start: Math.min(...tokens.map((t) => t.start)),
        end: Math.max(...tokens.map((t) => t.end)),
      });
    }
  }
  return [...found.values()];
}

/** A weight from which a word is quoted as telling it. */
const SPEAKS = 0.5;

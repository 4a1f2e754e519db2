/**
 * Learns `src/knowledge/told.yaml` from the lines in this folder, by `npm run told`: for each red flag a linear support vector machine
 * over the words of a line, against the lines of other flags, near ones, ordinary ones and what cases tell; and one for all flags over the
 * words of lines that tell one, against near and ordinary ones (`manner`). How heavy a sentence must be is read off lines of writers left out.
 */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { stringify } from "yaml";
import { loadKnowledge } from "../../../src/knowledge/load.js";
import type { Told } from "../../../src/knowledge/told-schema.js";
import { countsHours } from "../../../src/knowledge/urgency.js";
import { isOutweighed, type Weight } from "../../../src/visit/prose/told-words.js";
import { learnLinear } from "./linear.js";
import { caseLines, digestOf, folder, type Line, readLines } from "./lines.js";
import { byWeight, learnManner } from "./manner.js";

/** Flags that one line may well tell together; the lines of one say nothing against the other. */
const TOGETHER: readonly (readonly string[])[] = [
  ["arteritis-signs", "changed-sight"],
  ["lupus-beyond-skin", "lupus-organ-signs", "marrow-signs"],
  ["shingles-eye-or-ear", "shingles-signs"],
  ["shingles-eye-or-ear", "changed-sight"],
  ["infant-rash-signs", "infant-unwell", "red-skin-all-over"],
  ["marrow-signs", "severe-drug-reaction-signs", "red-skin-all-over"],
  ["severe-distress", "thoughts-of-self-harm", "low-mood-on-finasteride", "fixation-on-looks"],
  ["bleeding-or-growing-sore", "changing-mole", "bruise-that-stays"],
  ["marrow-signs", "medicine-taken-too-often"],
  ["hidden-bleeding", "starvation-signs"],
  ["ill-with-scalp-infection", "infection-with-lice"],
];
const mayStandWith = (a: string, b: string) => TOGETHER.some((set) => set.includes(a) && set.includes(b));

const COST = 0.1;
/** How much more a told line costs that is missed. */
const TOLD_COST = 8;
/** And how much more one of a visit that is known to be harmless and rings. */
const CASES_COST = 5;
/** Of lines of other flags, of those near it, and of ordinary ones, unseen and learned from, that may be taken for it. */
const MAY_RING = { others: 0.005, near: 0.04, ordinary: 0.0014, learned: 0.0006 };
/** Of the lines that clues tell rightly, those that may go unread for the words round them; fewer where hours count. */
const MAY_MISS = { urgent: 0.05, other: 0.12 };
/** Words that speak for a flag as much never speak against a clue of it. */
const MOST_LEAST = 1.6;
/** A word weighs from here on; less is noise. */
const LEAST = 0.3;

type Weights = ReadonlyMap<string, number>;

function learn(fact: string, lines: readonly Line[]): Weights {
  const used = lines.filter(
    (l) =>
      l.fact === fact ||
      (!(l.told && l.fact && mayStandWith(fact, l.fact)) &&
        !(l.fact === undefined && l.listed.has(fact) && fromCases.has(l))),
  );
  const { weights } = learnLinear(
    used.map((l) => ({
      features: l.stems,
      told: l.fact === fact && l.told,
      cost: l.fact === fact && l.told ? TOLD_COST : fromCases.has(l) ? CASES_COST : 1,
    })),
    { cost: COST, often: 2, seed: fact },
  );
  // Words of the same reach in every flag, so that weights read alike.
  return new Map(
    [...weights].flatMap(([stem, learned]) => {
      const weight = Math.round(learned * SCALE * 10) / 10;
      return Math.abs(weight) < LEAST ? [] : [[stem, weight] as const];
    }),
  );
}
const SCALE = 2;

const weigh = (stems: readonly string[], weights: Weights) =>
  stems.reduce((sum, s) => sum + (weights.get(s) ?? 0), 0);
const windowsOf = (line: Line, weights: Weights): Weight[] =>
  line.windows.map((w) => ({ sum: weigh(w, weights), words: w.filter((s) => weights.has(s)).length }));
const heaviest = (line: Line, weights: Weights) =>
  Math.max(...line.windows.map((w) => weigh(w, weights)), Number.NEGATIVE_INFINITY);
/** The value that a share of the list lies above. */
const above = (values: readonly number[], share: number) =>
  values.toSorted((a, b) => b - a)[Math.floor(values.length * share)] ?? Number.POSITIVE_INFINITY;

const root = process.cwd();
const knowledge = loadKnowledge();
const lines = readLines(root, knowledge);
const cases = caseLines(root, knowledge);
const fromCases = new Set(cases);
const ordinary = [...lines.filter((l) => l.fact === undefined), ...cases];
const writers = [...new Set(lines.flatMap((l) => (l.fact === undefined ? [] : [l.writer])))];
const facts = [...new Set(lines.flatMap((l) => l.fact ?? []))].sort();
const fold = (line: Line) => ordinary.indexOf(line) % writers.length;
const folds = new Map(ordinary.map((l) => [l, fold(l)] as const));

const { manner, figures: ofManner, isHarmless } = learnManner(lines, writers, knowledge);

const kept: Record<string, Told["facts"][string]> = {};
interface Sum {
  lines: number;
  lists: number;
  words: number;
  both: number;
}
const none = (): Sum => ({ lines: 0, lists: 0, words: 0, both: 0 });
const sums = { told: none(), near: none() };
const rings = { lists: new Set<Line>(), both: new Set<Line>() };
for (const fact of facts) {
  // Scores of lines by words learned without their writer.
  const scores = new Map<Line, number>();
  const weighed = new Map<Line, Weight[]>();
  writers.forEach((writer, n) => {
    const isOut = (l: Line) => (l.fact === undefined ? folds.get(l) === n : l.writer === writer);
    const weights = learn(
      fact,
      [...lines, ...cases].filter((l) => !isOut(l)),
    );
    for (const l of [...lines, ...cases])
      if (isOut(l)) {
        scores.set(l, heaviest(l, weights));
        if (l.listed.has(fact)) weighed.set(l, windowsOf(l, weights));
      }
  });
  const of = (some: readonly Line[]) => some.map((l) => scores.get(l) ?? Number.NEGATIVE_INFINITY);
  const others = lines.filter(
    (l) => l.fact !== undefined && l.fact !== fact && !mayStandWith(fact, l.fact) && !l.listed.has(fact),
  );
  const quiet = ordinary.filter((l) => !l.listed.has(fact));
  const near = lines.filter((l) => l.fact === fact && !l.told && !l.listed.has(fact));
  const weights = learn(fact, [...lines, ...cases]);
  const from =
    Math.max(
      above(of(others), MAY_RING.others),
      above(of(near), MAY_RING.near),
      above(of(quiet), MAY_RING.ordinary),
      above(
        quiet.filter((l) => !fromCases.has(l)).map((l) => heaviest(l, weights)),
        MAY_RING.learned,
      ),
      // None of the visits that are known to be harmless.
      ...quiet.filter((l) => fromCases.has(l)).map((l) => heaviest(l, weights)),
    ) + 0.1;
  const isUrgent = countsHours(knowledge.facts[fact]?.urgency);
  const hinted = of(lines.filter((l) => l.fact === fact && l.told && l.hinted.has(fact)));
  const least = Math.min(MOST_LEAST, above(hinted, 1 - (isUrgent ? MAY_MISS.urgent : MAY_MISS.other)));
  const isQuiet = (l: Line) => isHarmless(l, knowledge.facts[fact]?.urgency);
  const byLists = (l: Line) =>
    l.listed.has(fact) && !(l.hinted.has(fact) && isOutweighed(weighed.get(l) ?? [], least)) && !isQuiet(l);
  const byWords = (l: Line) => (scores.get(l) ?? 0) >= from && !isQuiet(l);
  for (const l of lines.filter((l) => l.fact === undefined)) {
    if (l.listed.has(fact)) rings.lists.add(l);
    if (byLists(l) || byWords(l)) rings.both.add(l);
  }
  const counted = (told: boolean, into: Sum) => {
    const own = lines.filter((l) => l.fact === fact && l.told === told);
    const here = {
      lines: own.length,
      lists: own.filter((l) => l.listed.has(fact)).length,
      words: own.filter(byWords).length,
      both: own.filter((l) => byWords(l) || byLists(l)).length,
    };
    for (const key of ["lines", "lists", "words", "both"] as const) into[key] += here[key];
    return `${here.lists} -> ${here.both} of ${here.lines}`;
  };
  console.log(`${fact.padEnd(32)} told ${counted(true, sums.told)}, near ${counted(false, sums.near)}`);
  kept[fact] = {
    from: Math.round(from * 10) / 10,
    least: Math.round(least * 10) / 10,
    words: byWeight(weights),
  };
}
const percent = (n: number, of: number) => Math.round((1000 * n) / of) / 10;
const shares = ({ lines: of, lists, words, both }: Sum) => ({
  lines: of,
  lists: percent(lists, of),
  words: percent(words, of),
  both: percent(both, of),
});
const plain = lines.filter((l) => l.fact === undefined);
const figures = {
  writers: writers.length,
  told: shares(sums.told),
  near: shares(sums.near),
  ordinary: {
    lines: plain.length,
    lists: percent(rings.lists.size, plain.length),
    both: percent(rings.both.size, plain.length),
  },
  manner: ofManner,
};
console.log(JSON.stringify(figures));
const digest = digestOf(root);
const count = (told: boolean) => lines.filter((l) => l.fact !== undefined && l.told === told).length;
writeFileSync(
  join(root, "src", "knowledge", "told.yaml"),
  `# Words that tell a red flag together, learned from invented lines (tests/prose/told) by \`npm run told\`; change the lines, not this file.\n# Words stand without their endings; a sentence tells the flag when its words weigh \`from\` or more, and a clue of it\n# says nothing where they weigh less than \`least\`. Under \`manner\`: words of a passage that tells of a danger (above nought), or only names one.\n${stringify(
    {
      lines: {
        told: count(true),
        near: count(false),
        ordinary: lines.filter((l) => l.fact === undefined).length,
        digest,
      },
      facts: kept,
      manner,
    } satisfies Told,
    { lineWidth: 0 },
  )}`,
);
writeFileSync(
  join(folder(root), "figures.yaml"),
  `# How lines are read by words learned without their writer, in percent; made by \`npm run told\`.\n${stringify({ digest, ...figures })}`,
);

/** What the handout adds: drawings with plain sentences, the impression in plain words, when to get help, words explained. */
import type { Impression } from "../visit/visit.js";
import type { FactsInput } from "./facts-input.js";
import type { SiteRow } from "./findings-table.js";
import { testFacts } from "./history-facts.js";
import type { LetterFacts } from "./variables.js";
import type { handoutVariables } from "./variables-handout.js";
import { fill, type Words } from "./words.js";

/** A reader takes in no more than this many drawings. Common practice, no source. */
/** A finding that speaks this strongly for a name kept back (natural-log units) would tell it. */
const TELLING = 0.9;
/** Keeps a spelt-out sound on one line. */
const NO_BREAK_HYPHEN = "\u2011";
const MOST_PICTURED = 4;
const MOST_WORDS = 6;
const MOST_QUESTIONS = 3;
const MOST_SIGNS = 4;

export type HandoutFacts = Pick<LetterFacts, "sitesPlain" | keyof typeof handoutVariables>;

export function handoutFacts(input: FactsInput, sites: readonly SiteRow[]): HandoutFacts {
  const named = namedFacts(input);
  const pictured = picturedFindings(input);
  const disorders = toldImpressions(input).flatMap((i) => input.knowledge.disorders[i.disorder] ?? []);
  const text = [
    ...pictured.flatMap((p) => [p.name, p.means]),
    // What comes next in general is told at the first visit only.
    ...named.flatMap((t) => [...t.is, ...t.means, ...(input.change ? [] : t.next)]),
    ...input.visit.plan.map((l) => l.action),
    ...input.interpretation.cautions.flatMap(
      (c) => input.knowledge.cautions[c.id]?.patient ?? c.patient ?? [],
    ),
  ].join(" \n ");
  return {
    sitesPlain: [...new Set(sites.map((s) => s.plain))],
    pictured,
    named,
    // A test may tell the name that is kept for a talk.
    resultsPlain: input.visit.impression.some((i) => i.inHandout === false)
      ? []
      : testFacts(input.words, input.visit),
    help: helpFacts(input),
    questions: [...new Set(disorders.flatMap((d) => d.patient.ask))].slice(0, MOST_QUESTIONS),
    glossary: wordsUsed(text, input.knowledge.glossary, input.words).slice(0, MOST_WORDS),
  };
}

/** Impressions the handout may name: the clinician may keep one back with `in_handout: no`. */
function toldImpressions(input: FactsInput): Impression[] {
  const held = input.visit.impression.filter((i) => i.certainty !== "excluded");
  // With the first name kept back, a lesser one standing alone would mislead.
  if (held[0]?.inHandout === false) return [];
  return held.filter((i) => i.inHandout !== false).slice(0, 2);
}

function namedFacts(input: FactsInput): HandoutFacts["named"] {
  return toldImpressions(input).flatMap((impression, index) => {
    const disorder = input.knowledge.disorders[impression.disorder];
    if (!disorder) return [];
    const sentences = index === 0 ? input.words.certainty_patient : input.words.certainty_patient_also;
    const p = disorder.patient;
    return [
      {
        name: p.name,
        says: fill(sentences[impression.certainty] ?? "", { name: p.name }),
        say: (p.say ?? "").replaceAll("-", NO_BREAK_HYPHEN),
        // The second name is told in brief: one sheet holds one story.
        is: index === 0 ? p.is : p.is.slice(0, 2),
        means: index === 0 ? p.means : p.means.slice(0, 1),
        next: index === 0 ? p.next : [],
      },
    ];
  });
}

/** Present findings, those that bear most on the recorded impression first. */
function picturedFindings(input: FactsInput): HandoutFacts["pictured"] {
  const weight = new Map<string, number>();
  const telling = new Set<string>();
  for (const i of input.visit.impression) {
    const view = input.interpretation.disorders.find((d) => d.id === i.disorder);
    for (const r of view?.for ?? []) {
      if (r.kind !== "finding" || r.state !== "present") continue;
      weight.set(r.id, Math.max(weight.get(r.id) ?? 0, r.weight));
      if (i.inHandout === false && r.weight > TELLING) telling.add(r.id);
    }
  }
  const seen = new Set(
    input.visit.sites.flatMap((s) =>
      s.findings.filter((f) => f.seen.state === "present").map((f) => f.finding),
    ),
  );
  return [...seen]
    .filter((id) => !telling.has(id))
    .sort((a, b) => (weight.get(b) ?? 0) - (weight.get(a) ?? 0) || (a < b ? -1 : 1))
    .flatMap((id) => {
      const finding = input.knowledge.findings[id];
      return finding
        ? [{ id, drawing: `pictogram:${id}`, name: finding.plain.name, means: finding.plain.means }]
        : [];
    })
    .slice(0, toldImpressions(input).length > 1 ? MOST_PICTURED - 1 : MOST_PICTURED);
}

function helpFacts(input: FactsInput): HandoutFacts["help"] {
  const { words, knowledge } = input;
  const own = toldImpressions(input).flatMap((i) => knowledge.disorders[i.disorder]?.patient.help ?? []);
  return (["now", "same day", "soon"] as const).flatMap((fast) => {
    const signs = [
      ...new Set([...own.filter((h) => h.how_fast === fast).map((h) => h.sign), ...(words.help[fast] ?? [])]),
    ];
    return signs.length > 0
      ? [
          {
            fast: words.how_fast[fast] ?? fast,
            // Signs that cannot wait are never left out.
            signs: (fast === "soon" ? signs.slice(0, MOST_SIGNS) : signs).map((sign) => inList(words, sign)),
          },
        ]
      : [];
  });
}

/** The signs of one speed are set in one sentence: no closing full stop, and no capital where the language allows it. */
function inList(words: Words, sign: string): string {
  const bare = sign.replace(/\.$/u, "");
  const first = /^\p{L}+/u.exec(bare)?.[0] ?? "";
  return words.help_small.includes(first) ? first.toLowerCase() + bare.slice(first.length) : bare;
}

/**
 * Glossary entries whose word stands in the text, in the order of the alphabet; longer words first claim their place. A word
 * that the text itself explains where it first stands, as in `thyroid (a gland in the neck)`, is left out.
 */
export function wordsUsed(
  text: string,
  glossary: Readonly<Record<string, string>>,
  words: Pick<Words, "glossary_endings" | "language">,
): { word: string; means: string }[] {
  let rest = text;
  const used: { word: string; means: string }[] = [];
  const endings = words.glossary_endings.join("|");
  const lower = text.toLowerCase();
  for (const { word, means, small } of longestFirst(glossary)) {
    if (!lower.includes(small)) continue;
    const pattern = new RegExp(
      `(?<![\\p{L}])${word.replace(/[.*+?^${}()|[\]\\]/gu, "\\$&")}(?:${endings})?(?![\\p{L}])`,
      "giu",
    );
    const first = pattern.exec(rest);
    if (!first) continue;
    const isExplained = /^(?:\s+\p{L}+)?\s*\(/u.test(rest.slice(first.index + first[0].length));
    rest = rest.replaceAll(pattern, " ");
    if (!isExplained) used.push({ word, means });
  }
  return used.sort((a, b) => a.word.localeCompare(b.word, words.language));
}

interface GlossaryWord {
  readonly word: string;
  readonly means: string;
  readonly small: string;
}

const sorted = new WeakMap<Readonly<Record<string, string>>, GlossaryWord[]>();

/** The entries of a glossary by length of word, sorted once. */
function longestFirst(glossary: Readonly<Record<string, string>>): GlossaryWord[] {
  const known = sorted.get(glossary);
  if (known) return known;
  const entries = Object.entries(glossary)
    .sort((a, b) => b[0].length - a[0].length)
    .map(([word, means]) => ({ word, means, small: word.toLowerCase() }));
  sorted.set(glossary, entries);
  return entries;
}

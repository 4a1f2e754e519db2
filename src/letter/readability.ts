/** The HTML of a handout -> how hard its own words are to read, and its hardest sentences. */
import { Parser } from "htmlparser2";
import { type Counts, type Formula, type LanguageReading, readingOf } from "./readability-formulas.js";

export interface ReadSentence {
  readonly text: string;
  readonly words: number;
  readonly grade: number;
}

export interface Readability {
  readonly formula: Pick<Formula, "name" | "source" | "how">;
  /** Years of school, by the formula. */
  readonly grade: number;
  readonly besides: readonly { readonly name: string; readonly grade: number }[];
  readonly counts: Counts;
  /** In reading order. */
  readonly sentences: readonly ReadSentence[];
}

/** Grade a patient text is held to. Patient material is advised at US grade 6 to 8 (PMC3049622). */
export const MOST_GRADE = 8;
/** A sentence is named when it is two grades harder than the whole may be, and long enough to be shortened. Common practice. */
const HARD_SENTENCE_GRADE = 10;
const HARD_SENTENCE_WORDS = 8;

const BLOCKS = new Set([
  ..."p li td dd dt th h1 h2 h3 h4 caption figcaption".split(" "),
  ..."ul ol dl table tr div section aside header address figure svg".split(" "),
]);
/** Not read as sentences: headings, labels, letterhead, addresses and drawings. */
const PASSED_OVER = new Set("h1 h2 h3 h4 th dt header address svg figure".split(" "));
const PASSED_CLASSES = /\b(?:subject|reference|small)\b/u;

/** The passages of a document that are read as sentences, in order. */
export function passagesOf(html: string): string[] {
  const passages: string[] = [];
  const open: boolean[] = [];
  let text = "";
  const end = () => {
    const passage = text.replace(/\s+/gu, " ").trim();
    if (passage !== "") passages.push(passage);
    text = "";
  };
  const parser = new Parser(
    {
      onopentag(name, attributes) {
        if (BLOCKS.has(name) || name === "br") end();
        if (name !== "br") open.push(PASSED_OVER.has(name) || PASSED_CLASSES.test(attributes.class ?? ""));
      },
      ontext(data) {
        if (!open.includes(true)) text += data;
      },
      onclosetag(name) {
        if (name !== "br") open.pop();
        if (BLOCKS.has(name)) end();
      },
    },
    { decodeEntities: true },
  );
  parser.end(html);
  end();
  return passages;
}

/** Full stops after these do not end a sentence. */
const ABBREVIATIONS =
  /(?<!\p{L})(?:Dr|Dra|Prof|Sr|Sra|Srta|Mr|Mrs|Ms|Nr|No|Tel|z|B|bzw|ca|ggf|p|ej|aprox)\.$/u;

/**
 * Units of thought that a full stop, question mark, exclamation mark, colon or semicolon marks off, as Flesch counts them
 * (from memory) and Fernández Huerta too. A label of a few words, with a colon or no mark at all, is left out.
 */
export function sentencesOf(passage: string): string[] {
  const pieces = passage.split(/(?<=[.!?:;…]["”’»)]?)\s+/u);
  const sentences: string[] = [];
  let held = "";
  for (const piece of pieces) {
    held = held === "" ? piece : `${held} ${piece}`;
    if (ABBREVIATIONS.test(held)) continue;
    sentences.push(held);
    held = "";
  }
  if (held !== "") sentences.push(held);
  return sentences.filter((s) => /[.!?;…]["”’»)]?$/u.test(s) || wordsOf(s).length > 4);
}

/** Words as they are spoken: a number is one word, a hyphen joins. */
export function wordsOf(text: string): string[] {
  return text.match(/[\p{L}\p{N}]+(?:['’.,-][\p{L}\p{N}]+)*/gu) ?? [];
}

/** Counting syllables takes far longer than looking them up, and letters use the same words over and over. */
const syllablesKept = new Map<string, number>();
const MOST_KEPT = 20_000;

function syllablesOf(word: string, language: string, count: (word: string) => number): number {
  const key = `${language} ${word}`;
  const known = syllablesKept.get(key);
  if (known !== undefined) return known;
  if (syllablesKept.size >= MOST_KEPT) syllablesKept.clear();
  const counted = count(word);
  syllablesKept.set(key, counted);
  return counted;
}

/** Sentences come again in letter after letter, and each is counted once for itself and once for the whole. */
const countsKept = new Map<string, Counts>();
const MOST_SENTENCES = 4000;

function countsOf(sentence: string, language: string, reading: LanguageReading): Counts {
  const key = `${language} ${sentence}`;
  const known = countsKept.get(key);
  if (known) return known;
  const words = wordsOf(sentence);
  const syllables = words.map((w) => (/^\p{N}/u.test(w) ? 1 : syllablesOf(w, language, reading.syllables)));
  const counts = {
    words: words.length,
    sentences: 1,
    syllables: syllables.reduce((sum, n) => sum + n, 0),
    polysyllables: syllables.filter((n) => n >= 3).length,
    monosyllables: syllables.filter((n) => n === 1).length,
    longWords: words.filter((w) => [...w].length > 6).length,
  };
  if (countsKept.size >= MOST_SENTENCES) countsKept.clear();
  countsKept.set(key, counts);
  return counts;
}

const NOTHING: Counts = {
  words: 0,
  sentences: 0,
  syllables: 0,
  polysyllables: 0,
  monosyllables: 0,
  longWords: 0,
};

const together = (a: Counts, b: Counts): Counts => ({
  words: a.words + b.words,
  sentences: a.sentences + b.sentences,
  syllables: a.syllables + b.syllables,
  polysyllables: a.polysyllables + b.polysyllables,
  monosyllables: a.monosyllables + b.monosyllables,
  longWords: a.longWords + b.longWords,
});

/** Measures passages; undefined for a language without a formula here, or when there is nothing to read. */
export function readability(passages: readonly string[], language: string): Readability | undefined {
  const reading = readingOf(language);
  if (!reading) return undefined;
  const sentences = passages
    .flatMap(sentencesOf)
    .map((text) => ({ text, own: countsOf(text, language, reading) }));
  const counts = sentences.reduce((sum, { own }) => together(sum, own), NOTHING);
  if (counts.words === 0) return undefined;
  const { name, source, how } = reading.formula;
  return {
    formula: { name, source, how },
    grade: reading.formula.grade(counts),
    besides: reading.besides.map((f) => ({ name: f.name, grade: f.grade(counts) })),
    counts,
    sentences: sentences.flatMap(({ text, own }) =>
      own.words > 0 ? [{ text, words: own.words, grade: reading.formula.grade(own) }] : [],
    ),
  };
}

/**
 * Sentences worth making shorter, hardest first, at most `most`. `names` (of people and of the disorder, which the handout
 * explains) weigh nothing: nobody can shorten them.
 */
export function hardSentences(
  passages: readonly string[],
  language: string,
  names: readonly string[] = [],
  most = 3,
): ReadSentence[] {
  const byLength = [...names].filter((n) => n !== "").sort((a, b) => b.length - a.length);
  return [...new Set(passages.flatMap(sentencesOf))]
    .flatMap((text) => {
      const bare = byLength.reduce((rest, name) => rest.replaceAll(name, "it"), text);
      const own = readability([bare], language)?.sentences ?? [];
      const grade = Math.max(...own.map((s) => s.grade));
      const words = own.reduce((sum, s) => sum + s.words, 0);
      return own.length > 0 ? [{ text, words, grade }] : [];
    })
    .filter((s) => s.grade > HARD_SENTENCE_GRADE && s.words >= HARD_SENTENCE_WORDS)
    .sort((a, b) => b.grade - a.grade)
    .slice(0, most);
}

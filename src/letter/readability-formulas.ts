/** Published formulas of reading ease, one for each language, with how its syllables are counted. Counts go in, a school grade comes out. */
import { fleschKincaid } from "flesch-kincaid";
import { smogFormula } from "smog-formula";
import { syllable } from "syllable";

export interface Counts {
  readonly words: number;
  readonly sentences: number;
  readonly syllables: number;
  /** Words of three or more syllables. */
  readonly polysyllables: number;
  /** Words of one syllable. */
  readonly monosyllables: number;
  /** Words of more than six letters. */
  readonly longWords: number;
}

export interface Formula {
  /** As cited in a report. */
  readonly name: string;
  readonly source: string;
  /** How the source was seen. */
  readonly how: "read" | "memory";
  /** Years of school needed. */
  grade(counts: Counts): number;
}

export interface LanguageReading {
  /** The formula to which a text is held. */
  readonly formula: Formula;
  /** Others that are reported beside it. */
  readonly besides: readonly Formula[];
  syllables(word: string): number;
}

/** US school grade from words a sentence and syllables a word. */
const fleschKincaidGrade: Formula = {
  name: "Flesch-Kincaid grade",
  source: "Kincaid JP et al. Naval Technical Training Command Research Branch Report 8-75, 1975",
  how: "memory",
  grade: (c) => fleschKincaid({ sentence: c.sentences, word: c.words, syllable: c.syllables }),
};

/** US school grade for full understanding; made for 30 sentences or more (from memory). */
const smog: Formula = {
  name: "SMOG",
  source: "McLaughlin GH. J Reading 1969;12:639-646",
  how: "memory",
  grade: (c) => smogFormula({ sentence: c.sentences, polysillabicWord: c.polysyllables }),
};

/** First new Wiener Sachtextformel: an Austrian school grade. Coefficients as in the manual of the R package koRpus. */
const wiener: Formula = {
  name: "Wiener Sachtextformel 1",
  source: "Bamberger R, Vanecek E. Lesen - Verstehen - Lernen - Schreiben. Wien 1984",
  how: "read",
  grade: (c) =>
    (19.35 * c.polysyllables) / c.words +
    (0.1672 * c.words) / c.sentences +
    (12.97 * c.longWords) / c.words -
    (3.27 * c.monosyllables) / c.words -
    0.875,
};

/** Fourth new Wiener Sachtextformel, from long sentences and words of three or more syllables alone; same manual. */
const wienerFour: Formula = {
  name: "Wiener Sachtextformel 4",
  source: wiener.source,
  how: "read",
  grade: (c) => (27.44 * c.polysyllables) / c.words + (0.2656 * c.words) / c.sentences - 1.693,
};

/** Spanish reading ease, 100 is easy: syllables a hundred words and words a sentence. */
export function fernandezHuerta(c: Counts): number {
  return 206.84 - (60 * c.syllables) / c.words - (1.02 * c.words) / c.sentences;
}

/** Lowest ease of each band with its highest school grade, as printed beside the formula; below 60 it leaves school behind. */
const HUERTA_GRADES = [
  { from: 90, grade: 4 },
  { from: 80, grade: 5 },
  { from: 70, grade: 6 },
  { from: 60, grade: 8 },
  { from: 50, grade: 12 },
  { from: 30, grade: 14 },
] as const;

const huerta: Formula = {
  name: "Fernández Huerta, by its table of grades",
  source: "Fernández Huerta J. Medidas sencillas de lecturabilidad. Consigna 1959;214:29-32",
  how: "read",
  grade: (c) => HUERTA_GRADES.find((band) => fernandezHuerta(c) >= band.from)?.grade ?? 16,
};

/** Vowels and diphthongs; Latin endings such as the `-ie` of Linie come out one short. Common practice. */
export function germanSyllables(word: string): number {
  const sounds = word.toLowerCase().replace(/qu/gu, "q");
  return Math.max(1, sounds.match(/aa|ee|oo|ie|ei|ai|au|eu|äu|oi|[aeiouyäöüáéè]/gu)?.length ?? 0);
}

/** Spanish rules: weak vowels lean on strong ones, an accent on a weak vowel parts them, the `u` of que and gue is silent. */
export function spanishSyllables(word: string): number {
  const sounds = word
    .toLowerCase()
    .replace(/qu/gu, "q")
    .replace(/gu(?=[eiéí])/gu, "g");
  const nuclei =
    /[iuü]?[aeoáéó](?:[iuü](?![aeoáéóíú])|y(?![aeiouáéíóú]))?|[íú]|[iuü]+(?:y(?![aeiouáéíóú]))?|y(?![aeiouáéíóú])/gu;
  return Math.max(1, sounds.match(nuclei)?.length ?? 0);
}

const READINGS: Readonly<Record<string, LanguageReading>> = {
  en: { formula: fleschKincaidGrade, besides: [smog], syllables: (word) => Math.max(1, syllable(word)) },
  de: { formula: wiener, besides: [wienerFour], syllables: germanSyllables },
  es: { formula: huerta, besides: [], syllables: spanishSyllables },
};

/** How a language is measured; undefined when no formula for it is known here. */
export function readingOf(language: string): LanguageReading | undefined {
  return READINGS[language.split("-")[0]?.toLowerCase() ?? ""];
}

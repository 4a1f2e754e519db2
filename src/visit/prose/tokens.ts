/** Free text as sentences of words: each word folded, without its ending, with its place in the text. */
import { stemmer } from "stemmer";

export interface Token {
  /** Folded: small letters, no accents, US spelling. */
  readonly word: string;
  readonly stem: string;
  readonly start: number;
  readonly end: number;
  /** Number of the part between commas, dashes and words such as `but`, within its sentence. */
  readonly part: number;
}

export type Sentence = readonly Token[];

/** Spellings that differ from country to country inside a word; both sides are read as the second. */
const SPELLED: readonly (readonly [RegExp, string])[] = [
  [/aem/gu, "em"],
  [/oed/gu, "ed"],
  [/oea/gu, "ea"],
  [/oeb/gu, "eb"],
  [/aes/gu, "es"],
  [/colour/gu, "color"],
  [/tumour/gu, "tumor"],
  [/odour/gu, "odor"],
  [/behaviour/gu, "behavior"],
  [/grey/gu, "gray"],
  [/fibre/gu, "fiber"],
  [/centre/gu, "center"],
  [/(?<![aeou])is(e|es|ed|ing|ation)$/u, "iz$1"],
  [/yse(d?)$/u, "yze$1"],
  [/ulph/gu, "ulf"],
];

const SHORT_FORMS: ReadonlyMap<string, readonly string[]> = new Map(
  [
    "can",
    "could",
    "would",
    "should",
    "do",
    "does",
    "did",
    "is",
    "was",
    "were",
    "are",
    "has",
    "have",
    "had",
    "must",
    "need",
  ].flatMap((verb): [string, string[]][] => [
    [`${verb}n't`, [verb, "not"]],
    [`${verb}nt`, [verb, "not"]],
    [`${verb}not`, [verb, "not"]],
  ]),
);
const SPECIAL: ReadonlyMap<string, readonly string[]> = new Map([
  ["can't", ["can", "not"]],
  ["cant", ["can", "not"]],
  ["won't", ["will", "not"]],
  ["wont", ["will", "not"]],
]);

const PIECES =
  /\d+(?:[.,/]\d+)*|[\p{L}]\/[\p{L}]\b|[\p{L}\p{N}]+(?:['’][\p{L}]+)*|(?<=\s)-+(?=\s)|[–—.!?;:,()\n]/gu;

/** A title in quotes, with its telling words in capitals, tells of nothing: `'Arsenic and Old Lace'`. */
const TITLE =
  /(?<![\p{L}\p{N}])(['‘"“])(?:\p{Lu}[\p{L}'’]*)(?:\s+(?:\p{Lu}[\p{L}'’]*|\p{Ll}{1,3}))*\s+\p{Lu}[\p{L}]*['’"”](?!\p{L})/gu;

/** Words that turn to something else: what is said of one side is not said of the other. */
const TURNS: ReadonlySet<string> = new Set(
  "but however although whereas aber jedoch sondern pero sino aunque".split(" "),
);
/** `Nothing but water` turns to nothing else. */
const ONLY: ReadonlySet<string> = new Set("nothing anything all any none everything last help".split(" "));

/**
 * Splits text at full stops, semicolons, colons and line ends; commas, brackets, dashes and words such as `but` part a sentence without
 * ending it.
 */
export function sentences(text: string): Sentence[] {
  const all: Token[][] = [];
  let now: Token[] = [];
  let part = 0;
  const close = () => {
    if (now.length > 0) all.push(now);
    now = [];
    part = 0;
  };
  const told = text.replace(TITLE, (title) => " ".repeat(title.length));
  for (const found of told.matchAll(PIECES)) {
    const [piece] = found;
    const start = found.index;
    const end = start + piece.length;
    // `Her sister, who has it` goes on about the sister.
    if (piece === "," && /^\s*whos?e?\b/iu.test(text.slice(end))) continue;
    // `Suicidal thoughts - none` is one statement.
    if (DASH.test(piece) && ANSWERS.test(text.slice(end))) continue;
    if (piece === "," || piece === "(" || piece === ")" || DASH.test(piece)) part += 1;
    else if (piece === ":") {
      // `Suicidal thoughts: denied` is one statement.
      if (ANSWERS.test(text.slice(end))) continue;
      close();
    } else if (piece === "?") {
      now.push({ word: "?", stem: "?", start, end, part });
      if (/^\s+(?:\p{Lu}|$)|^$/u.test(text.slice(end)) && !/(?:^|\s)$/u.test(text.slice(0, start))) close();
    } else if (ENDS.has(piece)) {
      if (piece === "." && /^\p{Ll}/u.test(text.slice(end))) continue;
      close();
    } else {
      for (const word of wordsOf(piece)) {
        if (TURNS.has(word) && !ONLY.has(now.at(-1)?.word ?? "")) part += 1;
        now.push({ word, stem: stemOf(word), start, end, part });
      }
    }
  }
  close();
  return all;
}

const DASH = /^[-–—]+$/u;
const ENDS: ReadonlySet<string> = new Set([".", "!", ";", "\n"]);

const ANSWERS = /^\s*(?:denied|denies|no|none|nil|negative|absent|not\s+\p{L}+)\s*(?:[.,;\n]|$)/iu;

/** `Can’t` -> `can`, `not`; `nonhealing` -> `non`, `healing`; `patient's` -> `patient`. */
function wordsOf(piece: string): string[] {
  const word = foldProse(piece);
  const short = SPECIAL.get(word) ?? SHORT_FORMS.get(word);
  if (short) return [...short];
  const bare = word.replace(/'(?:s|m|re|ve|ll|d)$/u, "").replaceAll("'", "");
  const non = /^non(?=\p{L}{4})/u.exec(bare);
  return non ? ["non", bare.slice(3)] : [bare];
}

/** Words of small plain letters that no spelling rule touches need no folding. */
const PLAIN = /^[a-z]+$/u;
const RULED = /aem|oe[dab]|aes|our|grey|fibre|centre|is(?:e|es|ed|ing|ation)$|ysed?$|ulph/u;

/** Small letters, no accents, straight apostrophes, US spelling. */
export function foldProse(word: string): string {
  if (PLAIN.test(word) && !RULED.test(word)) return word;
  let folded = word
    .normalize("NFKD")
    .replace(/\p{M}/gu, "")
    .replaceAll("’", "'")
    .replaceAll("ß", "ss")
    .toLowerCase();
  for (const [from, to] of SPELLED) folded = folded.replace(from, to);
  return folded;
}

/** Words that without their ending would be another word: a handful is no hand, and a laxative is not lax. */
const WHOLE = /^((?:hand|fist|arm|mouth|spoon|cup)ful|laxative|several|universal|news$)/u;

const stems = new Map<string, string>();

/** The word without its ending; numbers and words of three letters stay. */
export function stemOf(word: string): string {
  let stem = stems.get(word);
  if (stem === undefined) {
    stem = word.length <= 3 || /\d/u.test(word) ? word : (WHOLE.exec(word)?.[1] ?? stemmer(word));
    stems.set(word, stem);
  }
  return stem;
}

/** The accepted words that someone probably meant by one that is none: by a slip of the pen, by its initials, by a part of it. */
import { nearestWords } from "../base/nearest.js";
import { foldSpelling, singular } from "./spelling.js";

/** More words than this are no suggestion any more. */
const MOST = 3;
/** As many letters at the start make a Latin word and its English one the same: `parietalis`, `parietal`. */
const STEM = 5;

/** Latin sides and directions, as anatomists write them. */
const LATIN: Readonly<Record<string, string>> = {
  sinister: "left",
  sinistra: "left",
  sinistrum: "left",
  dexter: "right",
  dextra: "right",
  dextrum: "right",
};

/** At most three of the `spellings`, one for each meaning, the likeliest way first; none when nothing is like it. */
export function meantBy(
  word: string,
  spellings: readonly string[],
  meaningOf: (spelling: string) => string | undefined = (spelling) => spelling,
): string[] {
  const once = (found: readonly string[]) =>
    found.filter((one, i) => found.findIndex((other) => meaningOf(other) === meaningOf(one)) === i);
  if (/^[A-Z]{2,5}$/u.test(word.trim())) {
    const initials = once(spellings.filter((spelling) => initialsOf(spelling) === word.trim()));
    if (initials.length > 0) return initials.slice(0, MOST);
  }
  const near = once(nearestWords(word, spellings));
  if (near.length > 0) return near.slice(0, MOST);
  const alike = once(sharing(word, spellings));
  return alike.length <= MOST ? alike : [];
}

/** `exclamation mark hairs` -> `EMH` */
const initialsOf = (spelling: string) =>
  foldSpelling(spelling)
    .split(" ")
    .map((part) => part.charAt(0).toUpperCase())
    .join("");

/** The spellings that share the most words with it. */
function sharing(word: string, spellings: readonly string[]): string[] {
  const wanted = stems(word);
  let most = 0;
  let best: string[] = [];
  for (const spelling of spellings) {
    const shared = stems(spelling).filter((stem) => wanted.includes(stem)).length;
    if (shared > most) {
      most = shared;
      best = [spelling];
    } else if (shared === most && shared > 0) best.push(spelling);
  }
  return best;
}

const stems = (text: string): string[] =>
  singular(foldSpelling(text))
    .split(" ")
    .map((part) => LATIN[part] ?? part.slice(0, STEM));

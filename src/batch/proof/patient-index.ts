/** Everyone in a run -> a quick answer to: whose identifiers stand in this text? */
import type { Named } from "../../clinic-folder/scan.js";
import { foldName } from "../../visit/same-patient.js";
import { MAY_BREAK, matchAt, tokensOf } from "../token-text.js";

/** Shorter numbers also occur as counts and dates; the foot of the page is held against them instead. */
const SHORT_NUMBER = 5;

interface Entry {
  readonly patient: string;
  readonly visit: string;
  readonly words: readonly string[];
}

export class PatientIndex {
  private readonly byStart = new Map<string, Entry[]>();

  constructor(people: readonly Named[]) {
    const seen = new Set<string>();
    for (const person of people) {
      for (const words of identifiersOf(person)) {
        const key = `${person.patient}\n${words.join(" ")}`;
        if (words.length === 0 || seen.has(key)) continue;
        seen.add(key);
        const entry = { patient: person.patient, visit: person.visit, words };
        const start = startOf(words);
        const known = this.byStart.get(start);
        if (known) known.push(entry);
        else this.byStart.set(start, [entry]);
      }
    }
  }

  /**
   * Visits of other patients whose name or number stands in the text. A name that is also part of one of the `allowed` names
   * (the patient's own, the recipients', the clinicians') is nobody else's.
   */
  othersIn(tokens: readonly string[], own: string, allowed: readonly (readonly string[])[]): string[] {
    const found = new Set<string>();
    const plain = tokens.map(foldToken);
    const names = allowed.map((name) => name.map(foldToken));
    // `Oda K. Farrow` is Oda Farrow.
    const withoutInitials = plain.filter((token) => !/^\p{L}$/u.test(token));
    for (const text of withoutInitials.length < plain.length ? [plain, withoutInitials] : [plain]) {
      for (let i = 0; i < text.length; i += 1) {
        for (const entry of this.startingAt(text, i)) {
          if (entry.patient === own || found.has(entry.visit)) continue;
          if (matchAt(text, i, entry.words) === 0) continue;
          if (!names.some((name) => contains(name, entry.words))) found.add(entry.visit);
        }
      }
    }
    return [...found].sort();
  }

  private startingAt(tokens: readonly string[], i: number): readonly Entry[] {
    const [first = "", second] = tokens.slice(i, i + 2);
    const one = this.byStart.get(first) ?? [];
    const two = second === undefined ? [] : (this.byStart.get(`${first} ${second}`) ?? []);
    return one.length === 0 ? two : [...one, ...two];
  }
}

/** Two words, since all numbers of a clinic may begin alike; one where the second might be printed in parts. */
function startOf([first = "", second]: readonly string[]): string {
  return second === undefined || second.length >= MAY_BREAK ? first : `${first} ${second}`;
}

/** Numbers of patient and visit, in parts and in one; the name both ways round; as words without accents. */
function identifiersOf(person: Named): string[][] {
  const [given, family] = [person.given, person.family].map(plainWords);
  const names =
    given?.length && family?.length
      ? [
          [...given, ...family],
          [...family, ...given],
        ]
      : [];
  const numbers = [person.patient, person.visit].flatMap((number) => {
    const parts = plainWords(number);
    const whole = parts.join("");
    if (whole.length < SHORT_NUMBER || !/\d/u.test(whole)) return [];
    return parts.length > 1 ? [parts, [whole]] : [parts];
  });
  return [...numbers, ...names];
}

function plainWords(text: string): string[] {
  return tokensOf(text).map(foldToken);
}

const foldedTokens = new Map<string, string>();
const MOST_FOLDED = 50_000;

/** A word without accents and in plain letters, so that Juergen and Jürgen are one. */
function foldToken(token: string): string {
  const known = foldedTokens.get(token);
  if (known !== undefined) return known;
  if (foldedTokens.size >= MOST_FOLDED) foldedTokens.clear();
  const folded = /\d/u.test(token) ? token : foldName(token).join("") || token;
  foldedTokens.set(token, folded);
  return folded;
}

function contains(words: readonly string[], part: readonly string[]): boolean {
  return words.some((_, i) => part.every((word, j) => words[i + j] === word));
}

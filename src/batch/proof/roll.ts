/** Everyone in a run -> a quick answer to: whose identifiers stand in this text? */
import type { Named } from "../../clinic-folder/scan.js";
import { MAY_BREAK, matchAt, tokensOf } from "../token-text.js";

/** Shorter numbers also occur as counts and dates; the foot of the page is held against them instead. */
const SHORT_NUMBER = 5;

interface Entry {
  readonly patient: string;
  readonly visit: string;
  readonly words: readonly string[];
}

export class Roll {
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
    for (let i = 0; i < tokens.length; i += 1) {
      for (const entry of this.startingAt(tokens, i)) {
        if (entry.patient === own || found.has(entry.visit)) continue;
        if (matchAt(tokens, i, entry.words) === 0) continue;
        if (!allowed.some((name) => contains(name, entry.words))) found.add(entry.visit);
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

/** The number and the name both ways round, as words. */
function identifiersOf(person: Named): string[][] {
  const number = tokensOf(person.patient);
  const given = tokensOf(person.given);
  const family = tokensOf(person.family);
  const names =
    given.length > 0 && family.length > 0
      ? [
          [...given, ...family],
          [...family, ...given],
        ]
      : [];
  return number.join("").length >= SHORT_NUMBER ? [number, ...names] : names;
}

function contains(words: readonly string[], part: readonly string[]): boolean {
  return words.some((_, i) => part.every((word, j) => words[i + j] === word));
}

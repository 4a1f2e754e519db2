/** Everyone in a run -> a quick answer to: whose identifiers stand in this text? */
import type { Identity } from "../scan.js";
import { matchAt, tokensOf } from "../token-text.js";

/** Shorter numbers also occur as counts and dates; the foot of the page is held against them instead. */
const SHORT_NUMBER = 5;

interface Entry {
  readonly patient: string;
  readonly visit: string;
  readonly words: readonly string[];
}

export class Roll {
  private readonly byFirstWord = new Map<string, Entry[]>();

  constructor(people: readonly Identity[]) {
    const seen = new Set<string>();
    for (const person of people) {
      for (const words of identifiersOf(person)) {
        const key = `${person.patient}\n${words.join(" ")}`;
        const first = words[0];
        if (first === undefined || seen.has(key)) continue;
        seen.add(key);
        const entry = { patient: person.patient, visit: person.visit, words };
        const known = this.byFirstWord.get(first);
        if (known) known.push(entry);
        else this.byFirstWord.set(first, [entry]);
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
      for (const entry of this.byFirstWord.get(tokens[i] ?? "") ?? []) {
        if (entry.patient === own || found.has(entry.visit)) continue;
        if (matchAt(tokens, i, entry.words) === 0) continue;
        if (!allowed.some((name) => contains(name, entry.words))) found.add(entry.visit);
      }
    }
    return [...found].sort();
  }
}

/** The number and the name both ways round, as words. */
function identifiersOf(person: Identity): string[][] {
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

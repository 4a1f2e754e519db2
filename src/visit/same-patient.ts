/** Whether two visits under one patient number are of one person. Every command, the batch and the desk ask here. */

import { seenAs } from "../base/look-alike.js";
import { foldWord } from "../base/nearest.js";
import type { SAME_PATIENT_PROBLEMS } from "../base/problem-table.js";
import type { Visit } from "./visit.js";

/** Whose visit it is. A part that is left out is empty. */
export interface Identity {
  readonly visit: string;
  readonly date: string;
  readonly patient: string;
  readonly given: string;
  readonly family: string;
  readonly born: string;
  readonly sex: string;
  /** Ids of the messages that the clinician has accepted in this visit. */
  readonly accepts: readonly string[];
}

export type Differs = keyof typeof SAME_PATIENT_PROBLEMS;

export function identityOf(visit: Visit): Identity {
  const { id, name, born, sex } = visit.patient;
  return {
    visit: visit.id,
    date: visit.date,
    patient: id,
    given: name.given ?? "",
    family: name.family,
    born,
    sex,
    accepts: visit.accept.map((line) => line.id),
  };
}

/** Letters that no table takes apart into a plain one and a mark. */
const PLAIN: Readonly<Record<string, string>> = {
  ß: "ss",
  æ: "a",
  ä: "a",
  ø: "o",
  ö: "o",
  œ: "o",
  ü: "u",
  đ: "d",
  ð: "d",
  ł: "l",
  þ: "th",
  ı: "i",
};

const folded = new Map<string, readonly string[]>();
const MOST_FOLDED = 50_000;

/** The words of a name without case, accents, marks and the letters that stand for an accent (Müller, Mueller), sorted. */
export function foldName(name: string): readonly string[] {
  const known = folded.get(name);
  if (known) return known;
  if (folded.size >= MOST_FOLDED) folded.clear();
  const words = fold(name);
  folded.set(name, words);
  return words;
}

function fold(name: string): string[] {
  return name
    .normalize("NFC")
    .toLowerCase()
    .replace(/[ßæäøöœüđðłþı]/gu, (letter) => PLAIN[letter] ?? letter)
    .normalize("NFKD")
    .replace(/[\p{M}\p{Cf}'’ʼ`]/gu, "")
    .replace(/(?<=[aou])e/gu, "")
    .split(/[^\p{L}\p{N}]+/u)
    .filter((word) => word !== "")
    .map(seenAs)
    .sort();
}

/** Equal for one person's name however it is ordered and spelled. */
export function nameKey({ given, family }: Pick<Identity, "given" | "family">): string {
  return foldName(`${given} ${family}`).join(" ");
}

const SEX_UNKNOWN: ReadonlySet<string> = new Set(["", "not stated", "not recorded", "unknown"]);

/** What tells two people apart. What is left out in one of them tells nothing. */
export function differences(a: Identity, b: Identity): Differs[] {
  const found: Differs[] = [];
  if (nameKey(a) !== nameKey(b)) {
    const differs = (x: string, y: string) => {
      const [one, other] = [foldName(x).join(" "), foldName(y).join(" ")];
      return one !== other && one !== "" && other !== "";
    };
    if (differs(a.given, b.given)) found.push("given-differs");
    if (differs(a.family, b.family)) found.push("family-differs");
  }
  if (a.born !== b.born && a.born !== "" && b.born !== "") found.push("born-differs");
  const [sexA, sexB] = [foldWord(a.sex), foldWord(b.sex)];
  if (sexA !== sexB && !SEX_UNKNOWN.has(sexA) && !SEX_UNKNOWN.has(sexB)) found.push("sex-differs");
  return found;
}

/**
 * What differs and is not accepted. A difference is accepted by the later of the two, or by a visit of that same person between
 * them: whoever marries says so once. An earlier visit cannot accept what came after it.
 */
export function openDifferences(a: Identity, b: Identity, all: readonly Identity[]): Differs[] {
  const found = differences(a, b);
  if (found.length === 0) return found;
  const accepts = (later: Identity, earlier: Identity, what: Differs) =>
    [later, ...all].some(
      (one) =>
        one.accepts.includes(what) &&
        one.date >= earlier.date &&
        one.date <= later.date &&
        differences(one, later).length === 0,
    );
  return found.filter((what) => !accepts(a, b, what) && !accepts(b, a, what));
}

/** What a person names -> documents of the register: a visit, a document, a hash or the start of one, a print run. */
import { foldWord } from "../base/nearest.js";
import { documentsIn, type RegisteredDocument } from "./documents.js";
import type { RegisterLine } from "./line.js";

/** Fewer figures of a hash may be those of two. */
export const FEWEST_FIGURES = 6;

export interface Choice {
  /** Kind of the document. */
  readonly document?: string | undefined;
  /** Words of the name of who it is for. */
  readonly to?: string | undefined;
  readonly patient?: string | undefined;
  readonly visit?: string | undefined;
  /** ISO day on which it was made or sent. */
  readonly day?: string | undefined;
}

/** Documents that fit all that is asked for. */
export function chosen(documents: readonly RegisteredDocument[], choice: Choice): RegisteredDocument[] {
  return documents.filter(
    ({ made, sent }) =>
      (choice.document === undefined || made.document === choice.document) &&
      (choice.patient === undefined || made.patient === choice.patient) &&
      (choice.visit === undefined || made.visit === choice.visit) &&
      (choice.to === undefined || isNamed(made.addressee?.name ?? "", choice.to)) &&
      (choice.day === undefined || dayOf(made.at) === choice.day || sent.some(({ on }) => on === choice.day)),
  );
}

/** Every word asked for is a word of the name, or starts one: `brandt`, `dr brandt`. */
export function isNamed(name: string, asked: string): boolean {
  const words = foldWord(name).split(/\s+/u);
  const wanted = foldWord(asked).split(/\s+/u).filter(Boolean);
  return wanted.length > 0 && wanted.every((word) => words.some((one) => one.startsWith(word)));
}

/** The day of a moment by the clock on the wall. */
export function dayOf(moment: string): string {
  const at = new Date(moment);
  const two = (n: number) => String(n).padStart(2, "0");
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
}

/** The documents that `what` names: by the number of a visit, or by hash, whole or its first figures, of document, print run or line. */
export function named(lines: readonly RegisterLine[], what: string): RegisteredDocument[] {
  const documents = documentsIn(lines);
  const ofVisit = documents.filter(({ made }) => made.visit === what);
  if (ofVisit.length > 0) return ofVisit;
  const start = what.toLowerCase();
  if (start.length < FEWEST_FIGURES || !/^[0-9a-f]+$/u.test(start)) return [];
  const run = lines.findLast((line) => line.kind === "printed" && line.sha256.startsWith(start));
  if (run?.kind === "printed") {
    const inRun = new Set(run.documents);
    return documents.filter(({ made }) => inRun.has(made.hash));
  }
  const own = documents.filter(({ made }) => made.sha256.startsWith(start) || made.hash.startsWith(start));
  return new Set(own.map(({ made }) => made.sha256)).size > 1 ? [] : own;
}

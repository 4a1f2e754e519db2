/** What every part of the page reaches for: the open visit, the words of the knowledge, and the way to a field. */
import { createContext } from "preact";
import { useContext, useEffect, useState } from "preact/hooks";
import type { Problem } from "../../base/problem.js";
import { type KeyPath, writePath } from "../../base/yaml-source.js";
import { type Vocabulary, vocabulary } from "../../visit/vocabulary.js";
import type { DeskWords, FindingEntry } from "../messages.js";
import type { OpenVisit } from "./open-visit.js";

export interface Words extends DeskWords {
  readonly findingOf: Vocabulary;
  readonly disorderOf: Vocabulary;
  readonly regionOf: Vocabulary;
  readonly scoreOf: Vocabulary;
  readonly factOf: Vocabulary;
  readonly byId: ReadonlyMap<string, FindingEntry>;
}

/** The words with the library's own way of finding one by any spelling. */
export function withLookup(words: DeskWords): Words {
  return {
    ...words,
    findingOf: vocabulary("a finding", words.findings),
    disorderOf: vocabulary("a disorder", words.disorders),
    regionOf: vocabulary("a region", words.regions),
    scoreOf: vocabulary("a score", words.scores),
    factOf: vocabulary("a fact", words.facts),
    byId: new Map(words.findings.map((finding) => [finding.id, finding])),
  };
}

export interface Here {
  readonly visit: OpenVisit;
  readonly words: Words;
  /** Index of the site being recorded; -1 when there is none, or when the one that was chosen is gone. */
  readonly site: number;
  readonly chooseSite: (index: number) => void;
  /** Group of findings on show. */
  readonly group: string;
  readonly chooseGroup: (group: string) => void;
  /** Brings the field of a path into view and leaves the focus where it is. */
  readonly show: (path: string) => void;
  /** Moves to the field of a problem's path. */
  readonly goTo: (path: string) => void;
  /** Read out to those who do not see it. */
  readonly announce: (text: string) => void;
}

export const HereContext = createContext<Here | null>(null);

export function useHere(): Here {
  const here = useContext(HereContext);
  if (!here) throw new Error("used outside an open visit");
  return here;
}

/** Draws again whenever the visit changes. */
export function useVisit(visit: OpenVisit): void {
  const [, draw] = useState(0);
  useEffect(() => visit.subscribe(() => draw((n) => n + 1)), [visit]);
}

/** What the library says about exactly this place. */
export function useProblems(path: KeyPath): readonly Problem[] {
  const { visit } = useHere();
  const place = writePath(path);
  return visit.problems.filter((problem) => problem.path === place && problem.severity !== "note");
}

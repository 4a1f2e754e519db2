/**
 * Where each part of a Visit stands in the file it was read from, so that later checks can point at its lines. Findings
 * and facts are found under the spelling the file has, entries by their number among those that are filled.
 */

import { foldWord } from "../base/nearest.js";
import type { Problem } from "../base/problem.js";
import {
  type KeyPath,
  readPath,
  type SourcePlace,
  valueAt,
  writePath,
  type YamlSource,
} from "../base/yaml-source.js";
import { entries } from "./check-context.js";
import type { VisitFile } from "./schema.js";

export interface Places {
  readonly file: string;
  /** The place of a path such as `sites[0].findings.yellow dots`, by id or by term; of its nearest parent where it is not there. */
  of(path: string): SourcePlace;
}

export function placesIn(source: YamlSource, file: VisitFile): Places {
  const named = namedIn(file);
  return { file: source.file, of: (path) => source.place(inFile(source.value, named, readPath(path))) };
}

/** The problems with line and column filled in from their paths. */
export function placeProblems(places: Places | undefined, problems: readonly Problem[]): Problem[] {
  return problems.map((problem) =>
    !places || problem.line !== undefined || problem.path === undefined
      ? problem
      : { ...problem, file: problem.file ?? places.file, ...places.of(problem.path) },
  );
}

type Named = ReadonlyMap<string, ReadonlyMap<string, KeyPath>>;

/** By the map that holds them, the finding and fact ids of a Visit, each with where the file has it below that map's parent. */
function namedIn(file: VisitFile): Named {
  const named = new Map<string, Map<string, KeyPath>>();
  const add = (map: string, key: string, lines: readonly { key: string; id: string }[]) => {
    named.set(map, new Map(lines.map((line) => [line.id, [key, line.key]])));
  };
  add("asked", "asked", file.asked ?? []);
  add("examination.signs", "signs", file.examination?.signs ?? []);
  for (const [i, [, site]] of entries(file.sites).entries()) {
    const findings = (site.findings ?? []).map(({ key, finding }) => ({ key, id: finding }));
    add(`sites[${i}].findings`, "findings", findings);
    for (const [j, id] of (site.none_of ?? []).entries())
      named.get(`sites[${i}].findings`)?.set(id, ["none_of", j]);
    add(`sites[${i}].signs`, "signs", site.signs ?? []);
  }
  return named;
}

/** The path in the file's own words, and with its own numbers: an entry left empty is none of the Visit. */
function inFile(value: unknown, named: Named, path: KeyPath): KeyPath {
  const steps: (string | number)[] = [];
  for (const [i, step] of path.entries()) {
    const here = valueAt(value, steps);
    if (typeof step === "number" && Array.isArray(here)) {
      const filled = [...here.keys()].filter((at) => here[at] !== null);
      steps.push(filled[step] ?? step);
      continue;
    }
    const known = named.get(writePath(path.slice(0, i)));
    const own = known?.get(foldWord(String(step)).replaceAll(" ", "-"));
    if (own) steps.splice(-1, 1, ...own);
    else steps.push(step);
  }
  return steps;
}

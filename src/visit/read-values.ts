/** Runs a file's schema over its raw values: every misreading as a problem, and the values of all that could be read. */
import type { z } from "zod";
import type { Problem } from "../base/problem.js";
import { type KeyPath, valueAt, type YamlSource } from "../base/yaml-source.js";
import { pathOf, problemAt, problemsOfIssues } from "./issues.js";
import type { VisitWords } from "./visit-words.js";

const MOST_ISSUES = 200;
const MOST_ROUNDS = 6;

/** What was read, without the parts that could not be; undefined when the whole is no map. */
export function readValues<S extends z.ZodType>(
  source: YamlSource,
  schema: S,
  words?: VisitWords,
): { values?: z.output<S>; problems: Problem[] } {
  const first = schema.safeParse(source.value);
  if (first.success) return { values: first.data, problems: [] };
  const issues = first.error.issues.slice(0, MOST_ISSUES);
  const problems = problemsOfIssues(source, schema, issues, words);
  const cut = first.error.issues.length - issues.length;
  if (cut > 0)
    problems.push(
      problemAt(source, "too-many-problems", [], { message: `${cut} more places were not read` }),
    );
  let rest: unknown = source.value;
  let round: z.ZodSafeParseResult<z.output<S>> = first;
  for (let i = 0; i < MOST_ROUNDS && !round.success; i++) {
    rest = without(rest, round.error.issues.flatMap(badPaths));
    round = schema.safeParse(rest);
  }
  return { ...(round.success ? { values: round.data } : {}), problems };
}

/** Where the unreadable value of an issue stands; for a key that does not belong, the key's path. */
function badPaths(issue: z.core.$ZodIssue): KeyPath[] {
  const path = pathOf(issue);
  return issue.code === "unrecognized_keys" ? issue.keys.map((key) => [...path, key]) : [path];
}

/** A copy in which the values at `paths` are gone: keys removed, list entries empty. */
function without(value: unknown, paths: readonly KeyPath[]): unknown {
  const copy: unknown = structuredClone(value);
  for (const path of paths) {
    const last = path.at(-1);
    if (last === undefined) return undefined;
    const parent = valueAt(copy, path.slice(0, -1));
    if (Array.isArray(parent) && typeof last === "number") parent[last] = null;
    else if (parent !== null && typeof parent === "object") delete (parent as Record<string, unknown>)[last];
  }
  return copy;
}

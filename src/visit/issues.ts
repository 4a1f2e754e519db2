/** From zod's issues to problems that a clinician can act on, each with its place and, where a slip is known, its cure. */
import type { z } from "zod";
import type { Problem, Severity } from "../base/problem.js";
import { type KeyPath, valueAt, writePath, type YamlSource } from "../base/yaml-source.js";
import { type Expectation, expectedInWords, foundInWords, type ValueIssue } from "./expectation.js";
import { type ProblemId, problemKind } from "./problems.js";
import { keyHomes, keysAt } from "./schema-walk.js";
import { keySlips, valueSlips } from "./slips/slips.js";
import type { VisitWords } from "./visit-words.js";

export interface ProblemDetails {
  readonly message: string;
  readonly found?: string | undefined;
  readonly expected?: string | undefined;
  readonly suggestion?: string | undefined;
  readonly severity?: Severity;
  /** Point at this key of the map at the path, not at a value. */
  readonly key?: string;
  readonly related?: readonly { readonly message: string; readonly path: KeyPath; readonly key?: string }[];
}

/** A placed problem; its severity is the table's unless said otherwise. */
export function problemAt(source: YamlSource, id: ProblemId, path: KeyPath, said: ProblemDetails): Problem {
  const { key, related, severity, ...words } = said;
  const given = Object.fromEntries(Object.entries(words).filter(([, value]) => value !== undefined));
  return {
    severity: severity ?? problemKind(id).severity,
    id,
    message: said.message,
    ...given,
    file: source.file,
    path: writePath(key === undefined ? path : [...path, key]),
    ...source.place(path, key),
    ...(related
      ? {
          related: related.map((r) => {
            const { line, column } = source.place(r.path, r.key);
            return { message: r.message, line, column };
          }),
        }
      : {}),
  };
}

/** The problems behind zod's issues, in zod's order. `words` are the knowledge's, for finding names in wrong places. */
export function problemsOfIssues(
  source: YamlSource,
  schema: z.ZodType,
  issues: readonly z.core.$ZodIssue[],
  words?: VisitWords,
): Problem[] {
  let homes: Map<string, string[]> | undefined;
  const homesOf = (key: string) => {
    homes ??= keyHomes(schema);
    return homes.get(key) ?? [];
  };
  return issues.flatMap((issue): Problem[] => {
    const path = pathOf(issue);
    if (issue.code === "unrecognized_keys") {
      const accepted = keysAt(schema, path);
      return issue.keys.map((key) =>
        unknownKey(source, { ...keyIn(source, path, key), accepted, words, homesOf }),
      );
    }
    const trouble = troubleOf(issue);
    if (!trouble.onKey) return [wrongValue(source, path, trouble)];
    if (trouble.problem !== "unknown-key" || trouble.want.kind !== "word")
      return [wrongKey(source, path, trouble)];
    const accepted = [...trouble.want.words.terms.values()];
    const found = keyIn(source, path.slice(0, -1), String(path.at(-1)));
    return [unknownKey(source, { ...found, accepted, words: undefined, homesOf })];
  });
}

/** A key of the map at a path, with what stands round it. */
function keyIn(source: YamlSource, path: KeyPath, key: string) {
  const { line, column } = source.place(path, key);
  const map = valueAt(source.value, path) as Readonly<Record<string, unknown>>;
  return { key, path, map, before: (source.lines[line - 1] ?? "").slice(0, column - 1) };
}

/** The path of an issue, in strings and numbers. */
export function pathOf(issue: z.core.$ZodIssue): (string | number)[] {
  return issue.path.map((step) => (typeof step === "number" ? step : String(step)));
}

function unknownKey(source: YamlSource, found: Parameters<(typeof keySlips)[number]["notice"]>[0]): Problem {
  for (const slip of keySlips) {
    const hint = slip.notice(found);
    if (hint) {
      const { problem, ...said } = hint;
      return problemAt(source, problem, found.path, { ...said, key: found.key, found: found.key });
    }
  }
  return problemAt(source, "unknown-key", found.path, {
    message: `"${shorten(found.key)}" is not a key of this place`,
    key: found.key,
    found: found.key,
    expected: found.accepted.length > 0 ? `one of ${found.accepted.join(", ")}` : undefined,
  });
}

function wrongKey(source: YamlSource, path: KeyPath, trouble: ValueIssue): Problem {
  const key = String(path.at(-1));
  const suggestion = trouble.suggestion ?? nearest(trouble.want, key);
  return problemAt(source, trouble.problem, path.slice(0, -1), {
    message: trouble.message,
    key,
    found: key,
    expected: trouble.expected ?? expectedInWords(trouble.want, suggestion),
    suggestion,
  });
}

function wrongValue(source: YamlSource, path: KeyPath, trouble: ValueIssue): Problem {
  const raw = valueAt(source.value, path);
  const written = typeof raw === "string" ? raw : undefined;
  const key = String(path.findLast((step) => typeof step === "string") ?? "");
  for (const slip of valueSlips) {
    const hint = slip.notice({ want: trouble.want, written, raw, path, key });
    if (hint) {
      const { problem, ...said } = hint;
      return problemAt(source, problem, path, {
        ...said,
        found: foundInWords(raw),
        severity: "error",
      });
    }
  }
  const suggestion =
    trouble.suggestion ?? (written === undefined ? undefined : nearest(trouble.want, written));
  return problemAt(source, trouble.problem, path, {
    message: trouble.message,
    found: foundInWords(raw),
    expected: trouble.expected ?? expectedInWords(trouble.want, suggestion),
    suggestion,
  });
}

function nearest(want: Expectation, word: string): string | undefined {
  if (want.kind !== "word") return undefined;
  return want.words.near(word).join(" or ") || undefined;
}

function troubleOf(issue: z.core.$ZodIssue): ValueIssue {
  if (issue.code === "custom" && issue.params?.trouble) return issue.params.trouble as ValueIssue;
  if (issue.code === "too_big") {
    const message = `more than ${issue.maximum} entries`;
    return {
      problem: "text-too-long",
      message,
      want: { kind: "list" },
      expected: `at most ${issue.maximum}`,
    };
  }
  const list = issue.code === "invalid_type" && issue.expected === "array";
  const message = list ? "a list belongs here" : "keys and values belong here";
  return { problem: "wrong-shape", message, want: { kind: list ? "list" : "map" } };
}

const shorten = (text: string) => (text.length > 60 ? `${text.slice(0, 57)}...` : text);

/** What is odd about a file's text wherever it stands: keys left empty, letters broken by encodings, curly quotes. */

import type { Problem } from "../base/problem.js";
import { type KeyPath, writePath, type YamlSource } from "../base/yaml-source.js";
import { problemAt } from "./issues.js";
import { insideCurlyQuotes } from "./slips/curly-quoted.js";

/** Two or three Latin-1 letters that are the bytes of one UTF-8 letter, or a letter lost for good. */
const BROKEN = /[\u00c2-\u00c3][\u0080-\u00bf]|\u00e2\u20ac|\ufffd/u;

/** Warnings about single texts, in file order; places that a `known` error names are passed over. */
export function suspiciousText(source: YamlSource, known: readonly Problem[]): Problem[] {
  const spoken = new Set(known.flatMap((p) => (p.severity === "error" && p.path ? [p.path] : [])));
  const problems: Problem[] = [];
  const walk = (value: unknown, path: KeyPath, ancestors: readonly unknown[]) => {
    if (spoken.has(writePath(path)) || ancestors.includes(value)) return;
    if (value === null || value === "") {
      const key = path.at(-1);
      if (key === undefined) return;
      const finding = path.at(-2) === "findings";
      const name = typeof key === "number" ? `entry ${key + 1}` : `"${key}"`;
      problems.push(
        problemAt(source, "left-empty", typeof key === "number" ? path : path.slice(0, -1), {
          message: `${name} is left empty and read as ${finding ? "not assessed" : "left out"}`,
          ...(typeof key === "string" ? { key } : {}),
        }),
      );
    } else if (typeof value === "string") {
      if (BROKEN.test(value)) {
        problems.push(
          problemAt(source, "broken-letters", path, {
            message: "letters broken by a change of encoding",
            found: value.slice(0, 60),
          }),
        );
      }
      const inside = insideCurlyQuotes(value);
      if (inside !== undefined) {
        problems.push(
          problemAt(source, "curly-quotes", path, {
            message: "curly quotes are kept as part of the text",
            expected: "no quotes, or straight ones",
            suggestion: inside,
          }),
        );
      }
    } else if (Array.isArray(value)) {
      for (const [i, entry] of value.entries()) walk(entry, [...path, i], [...ancestors, value]);
    } else if (typeof value === "object") {
      for (const [key, entry] of Object.entries(value)) walk(entry, [...path, key], [...ancestors, value]);
    }
  };
  walk(source.value, [], []);
  return foldEmpty(problems);
}

/** More empty keys than this are a form being filled in, and one message says so. */
const MOST_EMPTY = 5;

function foldEmpty(problems: readonly Problem[]): Problem[] {
  const empty = problems.filter((p) => p.id === "left-empty");
  const first = empty[0];
  if (!first || empty.length <= MOST_EMPTY) return [...problems];
  const message = `${empty.length} keys from here on are left empty: read as left out, a finding as not assessed`;
  return problems.flatMap((p) => (p === first ? [{ ...p, message }] : p.id === "left-empty" ? [] : [p]));
}

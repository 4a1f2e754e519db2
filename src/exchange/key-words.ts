/** What a part of a visit records, told key by key in words: nothing that a table of keys knows is left out. */
import { withCapital } from "../base/text.js";
import type { Keys, Terms } from "../visit/key.js";
import { writeMap } from "../visit/key.js";

/** Endings of keys that are units, as words after the figure. */
const UNITS: Readonly<Record<string, string>> = {
  weeks: "weeks",
  years: "years",
  mm: "mm",
  um: "micrometres",
};

/** `Duration: 5 weeks`, `Hair care: braids, bleach`: one line for each key that holds something. */
export function keyWords(keys: Keys, part: unknown, terms: Terms): string[] {
  return Object.entries(writeMap(keys, part, terms) ?? {}).map(([key, value]) => {
    const { label, unit } = labelOf(key);
    return `${withCapital(label)}: ${wordsOf(value)}${unit}`;
  });
}

/** The same in one line, as `hairs 84, thin 9`. */
export function keyLine(keys: Keys, part: unknown, terms: Terms): string {
  return wordsOf(writeMap(keys, part, terms) ?? {});
}

/** Keys whose values speak for themselves. */
const UNNAMED: ReadonlySet<string> = new Set(["name", "who", "site", "action", "value", "unit", "result"]);

function wordsOf(value: unknown): string {
  if (Array.isArray(value)) {
    const entries = value.map(wordsOf);
    return entries.join(value.some((entry) => typeof entry === "object") ? "; " : ", ");
  }
  if (value === "none") return "not seen";
  if (value === null || typeof value !== "object") return String(value);
  if (value instanceof Map) return [...value].map(([size, n]) => `${n} of ${size}`).join(", ");
  if ("count" in value && "fields" in value)
    return `${value.count} in ${value.fields} ${value.fields === 1 ? "field" : "fields"}`;
  return Object.entries(value)
    .map(([key, inner]: readonly [string, unknown], i) => {
      const { label, unit } = labelOf(key);
      const joined = i === 0 ? "" : key === "unit" ? " " : ", ";
      return `${joined}${UNNAMED.has(key) ? "" : `${label} `}${wordsOf(inner)}${unit}`;
    })
    .join("");
}

function labelOf(key: string): { label: string; unit: string } {
  const unit = UNITS[/_([a-z]+)$/u.exec(key)?.[1] ?? ""];
  const label = (unit === undefined ? key : key.replace(/_[a-z]+$/u, "")).replaceAll("_", " ");
  return { label, unit: unit === undefined ? "" : ` ${unit}` };
}

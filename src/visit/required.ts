/** The keys a file must have, as one table: the reader reports them, the JSON Schema demands them. */
import type { KeyPath } from "../base/yaml-source.js";
import type { Keys } from "./key.js";
import { KEYS } from "./keys.js";
import type { Report } from "./report.js";

export interface RequiredKey {
  /** Where, such as `visit`, `sites[].patch` or `people.*`; the top is "". */
  readonly at: string;
  readonly key: string;
  /** What is missing, in words. */
  readonly says: string;
}

const row = (at: string, key: string, says: string): RequiredKey => ({ at, key, says });

export const VISIT_REQUIRED: readonly RequiredKey[] = requiredOf(KEYS, "");

function requiredOf(keys: Keys, at: string): RequiredKey[] {
  return Object.entries(keys).flatMap(([key, { missing, keys: inner, entries }]) => {
    const below = `${at === "" ? "" : `${at}.`}${key}${entries ? "[]" : ""}`;
    return [
      ...(missing === undefined ? [] : [row(at, key, missing)]),
      ...(inner ? requiredOf(inner, below) : []),
    ];
  });
}

export const CLINIC_REQUIRED: readonly RequiredKey[] = [
  row("", "name", "the clinic's name"),
  row("", "lines", "the clinic's address"),
  row("", "phone", "the clinic's telephone"),
  row("", "people", "the people of the clinic"),
  row("people.*", "name", "the person's name"),
  row("people.*", "role", "the person's role"),
  row("emergency[]", "label", "the label of the line"),
  row("emergency[]", "number", "the number of the line"),
];

/** Reports each required key that is left out or left empty. */
export function reportRequired(file: unknown, required: readonly RequiredKey[], report: Report): void {
  for (const { at, key, says } of required) {
    for (const [path, map] of mapsAt(
      file,
      at.split(/(?=\[\])|\./u).filter((s) => s !== ""),
      [],
    )) {
      if (map[key] !== undefined && map[key] !== null) continue;
      report("missing-key", path, { message: `${says} (${key}) is missing`, absent: key });
    }
  }
}

type Placed = [KeyPath, Readonly<Record<string, unknown>>];

function mapsAt(value: unknown, steps: readonly string[], path: KeyPath): Placed[] {
  if (value === null || typeof value !== "object") return [];
  const [step, ...rest] = steps;
  if (step === undefined) return Array.isArray(value) ? [] : [[path, value as Record<string, unknown>]];
  if (step === "[]")
    return Array.isArray(value) ? value.flatMap((entry, i) => mapsAt(entry, rest, [...path, i])) : [];
  const keys = step === "*" ? Object.keys(value) : [step];
  return keys.flatMap((key) => mapsAt((value as Record<string, unknown>)[key], rest, [...path, key]));
}

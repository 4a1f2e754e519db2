/** What stands in a file -> the same as a form would put it in. */
import type { Given, Written } from "./messages.js";

/** The same value without what was left empty; undefined when nothing is left. */
export function givenOf(value: Written | undefined): Given | undefined {
  if (value === undefined || value === null) return undefined;
  if (typeof value === "string") return value;
  if (Array.isArray(value)) return value.flatMap((entry: Written) => givenOf(entry) ?? []);
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, givenOf(inner)]));
}

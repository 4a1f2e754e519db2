/**
 * Which entry of a list is which, from one copy of a visit to the next. An entry keeps its name while it is edited, while
 * others come and go around it, and across another program's change as far as anyone can tell that it is the same one.
 */
import { type KeyPath, writePath } from "../../base/yaml-source.js";
import type { Written } from "../messages.js";
import { align } from "./align.js";

type List = readonly Written[];

/** Names of the entries, slot by slot. Lists are never changed in place, so a list has one set of names. */
const names = new WeakMap<List, readonly string[]>();
let count = 0;

export const freshName = (): string => `entry-${++count}`;

export function namesOf(list: List): readonly string[] {
  const known = names.get(list);
  if (known && known.length === list.length) return known;
  const given = list.map((_, i) => known?.[i] ?? freshName());
  names.set(list, given);
  return given;
}

export function nameSlots(list: List, given: readonly string[]): void {
  names.set(list, given);
}

/** Names every entry of the new copy as it was named in the old one; what cannot be told is named anew. */
export function carryNames(before: Written | undefined, now: Written | undefined, list = ""): void {
  if (before === now || !isHolder(before) || !isHolder(now)) return;
  if (Array.isArray(before) && Array.isArray(now)) {
    const old = namesOf(before);
    const given: (string | undefined)[] = now.map(() => undefined);
    align(list, before, now).forEach((to, from) => {
      if (to === null) return;
      given[to] = old[from];
      carryNames(before[from], now[to]);
    });
    nameSlots(
      now,
      given.map((name) => name ?? freshName()),
    );
  } else if (!Array.isArray(before) && !Array.isArray(now))
    for (const [key, value] of Object.entries(now as Readonly<Record<string, Written>>))
      carryNames((before as Readonly<Record<string, Written>>)[key], value, key);
}

/** A path that stays the same wherever its entries move: each index as the name of its entry. */
export function namedPath(written: Written | undefined, path: KeyPath): string {
  let here: Written | undefined = written;
  const steps = path.map((step) => {
    const holder = here;
    if (typeof step === "number" && Array.isArray(holder)) {
      here = (holder as List)[step];
      return namesOf(holder)[step] ?? String(step);
    }
    here =
      isHolder(holder) && !Array.isArray(holder)
        ? (holder as Readonly<Record<string, Written>>)[step]
        : undefined;
    return step;
  });
  return writePath(steps);
}

const isHolder = (value: Written | undefined): value is Exclude<Written, string | null> =>
  typeof value === "object" && value !== null;

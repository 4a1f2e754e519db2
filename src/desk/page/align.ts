/** Two readings of one list: which entry of the one is which of the other. Where nobody can tell, none is said. */
import type { Written } from "../messages.js";

/** What tells the entries of a list apart, by the list's last key. */
const NAMED_BY: Readonly<Record<string, readonly string[]>> = {
  sites: ["site", "at"],
  send_to: ["name"],
  plan: ["action"],
  tests: ["name", "date"],
  impression: ["disorder"],
  pull_test: ["site"],
  photos: ["file"],
  accept: ["id"],
  medicines: ["name"],
};

/** For each entry of `mine` its index in `theirs`, or null when it is not there or cannot be told from another. */
export function align(list: string, mine: readonly Written[], theirs: readonly Written[]): (number | null)[] {
  const found: (number | null)[] = mine.map(() => null);
  const free = new Set(theirs.keys());
  const pair = (key: (entry: Written) => string | undefined) => {
    const mineBy = byKey(mine, (i) => found[i] === null, key);
    const theirsBy = byKey(theirs, (i) => free.has(i), key);
    for (const [name, indices] of mineBy) {
      const others = theirsBy.get(name) ?? [];
      // Two alike on one side and one on the other: nobody can say which of them is left.
      if (indices.length !== others.length) continue;
      indices.forEach((index, n) => {
        const other = others[n];
        if (other === undefined) return;
        found[index] = other;
        free.delete(other);
      });
    }
  };
  pair((entry) => JSON.stringify(entry));
  const keys = NAMED_BY[list];
  if (keys) {
    const named = (entry: Written) => {
      const parts = keys.map((key) => partOf(entry, key));
      return parts[0] === undefined ? undefined : JSON.stringify(parts);
    };
    // A place that was moved and not otherwise changed; one that was moved and changed may be another one.
    if (list === "sites") pair((entry) => JSON.stringify(isMap(entry) ? { ...entry, at: null } : entry));
    pair(named);
  }
  return found;
}

function byKey(
  list: readonly Written[],
  isFree: (index: number) => boolean,
  key: (entry: Written) => string | undefined,
): Map<string, number[]> {
  const found = new Map<string, number[]>();
  list.forEach((entry, i) => {
    const name = isFree(i) ? key(entry) : undefined;
    if (name !== undefined) found.set(name, [...(found.get(name) ?? []), i]);
  });
  return found;
}

export type Holder = { readonly [key: string]: Written };

export const isMap = (value: Written | undefined): value is Holder =>
  typeof value === "object" && value !== null && !Array.isArray(value);

const partOf = (entry: Written, key: string): Written | undefined => (isMap(entry) ? entry[key] : undefined);

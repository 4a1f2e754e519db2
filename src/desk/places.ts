/** Where two readings of a visit file differ, so that a person can see what another program changed. */
import { type KeyPath, writePath } from "../base/yaml-source.js";
import type { Written } from "./messages.js";

const MOST = 12;

/** Paths at which the two differ, the first dozen; `the whole file` when one of them cannot be read. */
export function placesThatDiffer(mine: Written | null, theirs: Written | null): string[] {
  if (mine === null || theirs === null) return ["the whole file"];
  const places: string[] = [];
  const walk = (a: Written | undefined, b: Written | undefined, path: KeyPath) => {
    if (places.length >= MOST || JSON.stringify(a) === JSON.stringify(b)) return;
    if (isHolder(a) && isHolder(b) && Array.isArray(a) === Array.isArray(b)) {
      const [one, other] = [new Map(entriesOf(a)), new Map(entriesOf(b))];
      for (const step of new Set([...one.keys(), ...other.keys()]))
        walk(one.get(step), other.get(step), [...path, step]);
    } else places.push(writePath(path) || "the whole file");
  };
  walk(mine, theirs, []);
  return places;
}

type Holder = readonly Written[] | { readonly [key: string]: Written };

const isHolder = (value: Written | undefined): value is Holder => typeof value === "object" && value !== null;

function entriesOf(holder: Holder): [string | number, Written][] {
  return Array.isArray(holder)
    ? holder.map((value: Written, i): [number, Written] => [i, value])
    : Object.entries(holder as { readonly [key: string]: Written });
}

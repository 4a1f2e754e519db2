/**
 * Changes made on one text of a visit -> the same changes on another text of it. An entry of a list is the entry that it was,
 * wherever it stands now; it is never merely the third one.
 */
import type { KeyPath } from "../../base/yaml-source.js";
import { givenOf } from "../given.js";
import type { Edit, Written } from "../messages.js";
import type { Holder } from "./align.js";
import { align } from "./align.js";
import { apply, valueAt } from "./apply.js";

/** A change that the other text also touched, or whose entry is no longer there. */
export interface Clash {
  /** In the page's own text. */
  readonly path: KeyPath;
  /** In the other text; null when the entry is gone. */
  readonly there: KeyPath | null;
  readonly mine: Written | undefined;
  readonly theirs: Written | undefined;
  /** The edits that write mine over theirs; an entry that is gone is put back whole, at the end of its list. */
  readonly keep: readonly Edit[];
}

export interface Rebased {
  /** Changes that meet nobody else's. */
  readonly edits: readonly Edit[];
  readonly clashes: readonly Clash[];
}

/** The same place in another text: each index followed to where its entry stands there; null when an entry is gone. */
export function samePlace(base: Written, other: Written, path: KeyPath): KeyPath | null {
  const there: (string | number)[] = [];
  for (const [depth, step] of path.entries()) {
    if (typeof step === "string") {
      there.push(step);
      continue;
    }
    const at = path.slice(0, depth);
    const list = valueAt(base, at);
    const otherList = valueAt(other, there);
    const mine = Array.isArray(list) ? list : [];
    const theirs = Array.isArray(otherList) ? otherList : [];
    const to = align(String(path[depth - 1] ?? ""), mine, theirs)[step];
    if (to === null || to === undefined) return null;
    there.push(to);
  }
  return there;
}

/** Makes edits of `base` on `other`, one after the other, following each entry to where it stands. */
export function rebase(base: Holder, other: Holder, edits: readonly Edit[]): Rebased {
  const kept: Edit[] = [];
  const clashes = new Map<string, Clash>();
  let mine = base;
  // The same two texts with each change that went through made in both, so that a later one finds what an earlier one made.
  let from = base;
  let to = other;
  for (const edit of edits) {
    const { path } = edit;
    mine = apply(mine, [edit]);
    const made = appended(from, to, path);
    const there = made ? made.path : samePlace(from, to, path);
    const before = valueAt(from, path);
    const now = there === null ? undefined : valueAt(to, there);
    const clashing = [...clashes.values()].find((clash) => startsWith(path, clash.path));
    if (clashing || there === null || (!made && JSON.stringify(before) !== JSON.stringify(now))) {
      const at = clashing?.path ?? (there === null ? lostEntry(from, to, path) : path);
      clashes.set(JSON.stringify(at), clashAt(from, to, mine, at));
      continue;
    }
    const moved: Edit = { ...edit, path: there };
    from = apply(from, [edit]);
    to = apply(to, [moved]);
    kept.push(moved);
  }
  return { edits: kept, clashes: [...clashes.values()] };
}

function clashAt(base: Holder, other: Holder, mine: Holder, path: KeyPath): Clash {
  const there = samePlace(base, other, path);
  const own = valueAt(mine, path);
  const theirs = there === null ? undefined : valueAt(other, there);
  const given = givenOf(own);
  if (there !== null) {
    const keep: Edit =
      given === undefined ? { do: "remove", path: there } : { do: "set", path: there, value: given };
    return { path, there, mine: own, theirs, keep: [keep] };
  }
  const list = path.slice(0, -1);
  const at = samePlace(base, other, list) ?? list;
  const length = lengthAt(other, at);
  const keep: Edit[] = given === undefined ? [] : [{ do: "set", path: [...at, length], value: given }];
  return { path, there, mine: own, theirs, keep };
}

/** The path of the first entry on the way that the other text no longer has. */
function lostEntry(base: Written, other: Written, path: KeyPath): KeyPath {
  for (let depth = 1; depth <= path.length; depth++) {
    const at = path.slice(0, depth);
    if (typeof at.at(-1) === "number" && samePlace(base, other, at) === null) return at;
  }
  return path;
}

/** A place in an entry that this very edit adds at the end of its list stands at the end of the other text's list. */
function appended(from: Written, to: Written, path: KeyPath): { path: KeyPath } | undefined {
  for (const [depth, step] of path.entries()) {
    if (typeof step !== "number") continue;
    const at = path.slice(0, depth);
    if (step < lengthAt(from, at)) continue;
    const there = samePlace(from, to, at);
    return there === null ? undefined : { path: [...there, lengthAt(to, there), ...path.slice(depth + 1)] };
  }
  return undefined;
}

function lengthAt(written: Written, path: KeyPath): number {
  const list = valueAt(written, path);
  return Array.isArray(list) ? list.length : 0;
}

const startsWith = (path: KeyPath, head: KeyPath): boolean => head.every((step, i) => path[i] === step);

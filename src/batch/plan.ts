/** The worklist, what stands on disk and what the visits say of themselves -> what is to be made. Pure. */
import { createHash } from "node:crypto";
import { groupBy } from "../base/group.js";
import { sha256 } from "../base/sha256.js";
import { type Reason, reason } from "./outcome.js";
import type { WorkItem } from "./source.js";

/** Of others that a reason names. */
const MOST_NAMED = 5;

export interface Shard {
  /** From 1 to `count`. */
  readonly index: number;
  readonly count: number;
}

/** `2/4`; undefined when it is none. */
export function readShard(text: string): Shard | undefined {
  const match = /^([1-9]\d{0,3})\/([1-9]\d{0,3})$/u.exec(text);
  const shard = { index: Number(match?.[1]), count: Number(match?.[2]) };
  return match && shard.index <= shard.count ? shard : undefined;
}

/** Folder of a shard below the common one, such as `shard-02-of-04`. */
export function shardFolder({ index, count }: Shard): string {
  const width = Math.max(2, String(count).length);
  return `shard-${String(index).padStart(width, "0")}-of-${String(count).padStart(width, "0")}`;
}

/** True when the key belongs to the shard: by its hash alone, so that other lines of the worklist do not move it. */
export function inShard(key: string, shard: Shard | undefined): boolean {
  if (!shard) return true;
  const number = createHash("sha256").update(key).digest().readUInt32BE(0);
  return number % shard.count === shard.index - 1;
}

/** Visits that must not be made because two files carry one visit number, and so one file name. By key. */
export function conflicts(
  items: readonly { readonly key: string; readonly visit?: string | undefined }[],
): Map<string, Reason> {
  const named = items.filter(({ visit }) => visit !== undefined && visit !== "");
  const groups = groupBy(named, ({ visit }) => visit?.toLowerCase());
  return new Map(
    [...groups.values()].flatMap((group) =>
      group.length < 2
        ? []
        : group.map(({ key }): [string, Reason] => [key, reason("visit-id-twice", keysBeside(group, key))]),
    ),
  );
}

function keysBeside(group: readonly { readonly key: string }[], own: string): string {
  const others = group.map(({ key }) => key).filter((key) => key !== own);
  return others.length > MOST_NAMED
    ? `${others.slice(0, MOST_NAMED).join(", ")} and ${others.length - MOST_NAMED} more`
    : others.join(", ");
}

/** Hash over every key, to tell whether two shards come from one worklist. */
export function worklistHash(items: readonly WorkItem[]): string {
  return sha256([...items.map((i) => i.key)].sort().join("\n"));
}

/** The worklist, what stands on disk and what the visits say of themselves -> what is to be made. Pure. */
import { createHash } from "node:crypto";
import type { Identity } from "../clinic-folder/scan.js";
import { type Reason, reason } from "./outcome.js";
import type { WorkItem } from "./source.js";

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

/**
 * Visits that must not be made because two files cannot both be right: one visit id in two files, or one patient id with two
 * dates of birth. By key.
 */
export function conflicts(
  items: readonly {
    readonly key: string;
    readonly identity?: Pick<Identity, "visit" | "patient" | "born"> | undefined;
  }[],
): Map<string, Reason> {
  const found = new Map<string, Reason>();
  const groups = (by: (identity: Pick<Identity, "visit" | "patient" | "born">) => string) => {
    const map = new Map<string, { key: string; identity: Pick<Identity, "visit" | "patient" | "born"> }[]>();
    for (const { key, identity } of items) {
      if (!identity) continue;
      const group = map.get(by(identity)) ?? [];
      group.push({ key, identity });
      map.set(by(identity), group);
    }
    return [...map.values()].filter((group) => group.length > 1);
  };
  for (const group of groups((i) => i.visit.toLowerCase()))
    for (const { key } of group)
      found.set(
        key,
        reason(
          "visit-id-twice",
          group
            .map((g) => g.key)
            .filter((k) => k !== key)
            .join(", "),
        ),
      );
  for (const group of groups((i) => i.patient.toLowerCase())) {
    if (new Set(group.map((g) => g.identity.born)).size < 2) continue;
    for (const { key } of group) {
      const others = group.map((g) => g.identity.visit);
      found.set(key, reason("patient-id-shared", `visits ${[...new Set(others)].sort().join(", ")}`));
    }
  }
  return found;
}

/** Hash over every key, to tell whether two shards come from one worklist. */
export function worklistHash(items: readonly WorkItem[]): string {
  return createHash("sha256")
    .update([...items.map((i) => i.key)].sort().join("\n"))
    .digest("hex");
}

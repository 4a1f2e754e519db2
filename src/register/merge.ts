/** Two copies of one register, written to apart, become one again: both histories stay, and a merged line names both ends. */
import type { Problem } from "../base/problem.js";
import { writeWhole } from "../files/write.js";
import { holding, keepLast, now } from "./append.js";
import { clearErased } from "./erase.js";
import { contentOf, keepContent, keptHashes } from "./kept.js";
import { registerFile } from "./places.js";
import { chainOf, readRegister } from "./read.js";
import { parseLine, type StoredLine, saltOf, storedLine, writeLine } from "./stored.js";

export type Merged =
  /** `taken` lines of the other came in; 0 where it knows nothing new. */
  | { readonly kind: "merged"; readonly taken: number; readonly contents: number }
  | { readonly kind: "refused"; readonly problems: readonly Problem[] };

/**
 * Takes the lines and contents of the register in the folder `other` into the one in `folder`; `other` stays as it is. Refuses a
 * broken one, and one that began elsewhere. Throws NotWritten or RegisterBusy.
 */
export function mergeRegister(folder: string, other: string, by: string): Merged {
  const theirs = readRegister(other);
  const broken = theirs.problems.filter(({ severity }) => severity === "error");
  if (broken.length > 0) return { kind: "refused", problems: broken };
  if (!theirs.exists) return refused(other, "no register has begun there");
  return holding(folder, (lock) => {
    const own = chainOf(folder);
    const copy = chainOf(other);
    const others = [...copy.stored.values()];
    const ownLines = [...own.stored.values()];
    const known = new Set(ownLines.map(({ hash }) => hash));
    const taken = others.filter(({ hash }) => !known.has(hash));
    const hasGround = ownLines.length === 0 || others.some(({ hash }) => known.has(hash));
    if (!hasGround) return refused(other, "it began elsewhere: no line is in both");
    const contents = takeContents(folder, other);
    if (taken.length > 0) {
      if (lock.isLost()) return refused(folder, "another program holds it");
      const hashes = new Set(others.map(({ hash }) => hash));
      const isBroken = own.faults.some(({ id }) => id === "register-broken");
      const goesOn = !isBroken && ownLines.every(({ hash }) => hashes.has(hash));
      // What only went on elsewhere is taken as it stands there, so that copies merged to and fro become alike.
      const all = goesOn ? copy.texts : [...own.texts, ...withMerged(own.tip, taken, by)];
      writeWhole(registerFile(folder), `${all.join("\n")}\n`);
      const tip = goesOn ? copy.tip : parseLine(all.at(-1) ?? "")?.line;
      keepLast(folder, tip?.hash ?? "", all.length);
    }
    clearErased(folder);
    return { kind: "merged", taken: taken.length, contents };
  });
}

/** Lines of the other copy, and the line that names both ends. */
function withMerged(tip: StoredLine | undefined, taken: readonly StoredLine[], by: string): string[] {
  const ends = [tip, taken.at(-1)].flatMap((line) => line?.hash ?? []);
  const joined = taken.map(({ hash }) => hash);
  return [...taken, storedLine({ kind: "merged", at: now(), by, joined }, ends, saltOf())].map(writeLine);
}

function takeContents(folder: string, other: string): number {
  const known = new Set(keptHashes(folder));
  const fresh = keptHashes(other)
    .filter((hash) => !known.has(hash))
    .flatMap((hash) => contentOf(other, hash) ?? []);
  return keepContent(folder, fresh).length;
}

function refused(folder: string, message: string): Merged {
  return {
    kind: "refused",
    problems: [{ severity: "error", id: "register-not-merged", message, file: registerFile(folder) }],
  };
}

/** Two copies of one register, written to apart, become one again: both histories stay, and a merged line names both ends. */
import { readdirSync } from "node:fs";
import type { Problem } from "../base/problem.js";
import { writeWhole } from "../files/write.js";
import { holding, keepLast, now } from "./append.js";
import { clearErased } from "./erase.js";
import { contentOf, keepContent, keptHashes } from "./kept.js";
import { registerFile } from "./places.js";
import { chainOf, readRegister } from "./read.js";
import { type StoredLine, saltOf, storedLine, writeLine } from "./stored.js";

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
    const others = [...chainOf(other).stored.values()];
    const ownLines = [...own.stored.values()];
    const known = new Set(ownLines.map(({ hash }) => hash));
    const taken = others.filter(({ hash }) => !known.has(hash));
    const hasGround = ownLines.length === 0 || others.some(({ hash }) => known.has(hash));
    if (!hasGround) return refused(other, "it began elsewhere: no line is in both");
    const contents = takeContents(folder, other);
    if (taken.length > 0) {
      const ends = [own.tip, others.at(-1)].flatMap((line) => line?.hash ?? []);
      const goesOn = taken.every(({ previous }, i) =>
        isOnly(previous, i === 0 ? own.tip?.hash : taken[i - 1]?.hash),
      );
      const added: StoredLine[] = goesOn
        ? taken
        : [
            ...taken,
            storedLine(
              { kind: "merged", at: now(), by, joined: taken.map(({ hash }) => hash) },
              ends,
              saltOf(),
            ),
          ];
      const all = [...own.texts, ...added.map(writeLine)];
      if (lock.isLost()) return refused(folder, "another program holds it");
      writeWhole(registerFile(folder), `${all.join("\n")}\n`);
      keepLast(folder, added.at(-1)?.hash ?? "", all.length);
    }
    clearErased(folder);
    return { kind: "merged", taken: taken.length, contents };
  });
}

function isOnly(previous: readonly string[], hash: string | undefined): boolean {
  return hash === undefined ? previous.length === 0 : previous.length === 1 && previous[0] === hash;
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

/** True for a folder that can be looked into. */
export function isFolder(path: string): boolean {
  try {
    readdirSync(path);
    return true;
  } catch {
    return false;
  }
}

/** A patient leaves: what the clinic's folder holds of them goes; in the register hashes stay, and its chain still holds. */
import { readdirSync, readFileSync, rmSync } from "node:fs";
import { dirname, join } from "node:path";
import type { Problem } from "../base/problem.js";
import { hasError } from "../base/problem.js";
import { sha256 } from "../base/sha256.js";
import { removeIfEmpty, syncFolder } from "../files/write.js";
import { eraseFromRegister } from "./erase.js";
import type { RegisterLine } from "./line.js";
import { filesOfPatient, ownPhotos } from "./patient.js";
import { hasRegister } from "./places.js";
import { readRegister } from "./read.js";

export interface ToErase {
  /** Visits, photos and letters beside the visits, by path. */
  readonly files: readonly string[];
  readonly lines: number;
  readonly problems: readonly Problem[];
}

/** What an erasing would take away; nothing is changed. With an error it cannot be done. */
export function toErase(folder: string, number: string): ToErase {
  const found = filesOfPatient(folder, number);
  const lines = linesOf(folder, number);
  return {
    files: [...lettersOf(found.visits, lines), ...ownPhotos(folder, found), ...found.visits],
    lines: lines.length,
    problems: found.problems,
  };
}

/** What other rooms keep of a folder's visits: the extracts of open work, and the desk's list. */
const KEPT = ["extracts.json", "desk-list.json"];

/** Takes it away: the register first, the visits last, so that one that was killed finds the rest when it comes again. */
export function erasePatient(
  folder: string,
  number: string,
  said: { readonly by: string; readonly reason: string },
): ToErase & { readonly contents: number } {
  const found = toErase(folder, number);
  if (hasError(found.problems)) return { ...found, contents: 0 };
  const { contents } = hasRegister(folder) ? eraseFromRegister(folder, number, said) : { contents: 0 };
  for (const file of found.files) rmSync(file, { force: true });
  // What was worked out of the visits and kept, to be worked out again.
  for (const kept of KEPT) rmSync(join(folder, ".whorl", kept), { force: true });
  for (const place of new Set(found.files.map((file) => dirname(file)))) {
    syncFolder(place);
    if (place !== folder) removeIfEmpty(place);
  }
  return { ...found, contents };
}

function linesOf(folder: string, number: string): RegisterLine[] {
  const { lines, doubtful } = readRegister(folder);
  return [...lines, ...doubtful].filter((line) => "patient" in line && line.patient === number);
}

/** Documents beside the visits, in `letters/`, that are byte for byte what the register says was made of this patient's visits. */
function lettersOf(visits: readonly string[], lines: readonly RegisterLine[]): string[] {
  const made = new Set(lines.flatMap((line) => (line.kind === "made" ? [line.sha256] : [])));
  return [...new Set(visits.map((file) => join(dirname(file), "letters")))].flatMap((place) =>
    namesIn(place)
      .map((name) => join(place, name))
      .filter((file) => /\.pdf$/iu.test(file) && made.has(sha256(readFileSync(file)))),
  );
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
      entry.isFile() ? [entry.name] : [],
    );
  } catch {
    return [];
  }
}

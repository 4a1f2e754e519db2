/** A patient leaves: what the register holds of them goes, the hashes stay, and the chain still holds. */
import { writeWhole } from "../files/write.js";
import { addLines, holding, now } from "./append.js";
import { dropContent, keptHashes } from "./kept.js";
import type { RegisterLine } from "./line.js";
import { registerFile } from "./places.js";
import { chainOf } from "./read.js";
import { parseLine, withoutBody, writeLine } from "./stored.js";

export interface Erased {
  readonly lines: number;
  readonly contents: number;
}

/**
 * Takes a patient's lines and contents out of the register. First a line says which, so that an erasing that was killed is
 * finished by whoever comes next. Throws NotWritten or RegisterBusy.
 */
export function eraseFromRegister(
  folder: string,
  patient: string,
  { by, reason }: { readonly by: string; readonly reason: string },
): Erased {
  return holding(folder, (lock) => {
    const { lines, doubtful } = chainOf(folder);
    const own = [...lines, ...doubtful].filter((line) => "patient" in line && line.patient === patient);
    if (own.length > 0)
      addLines(folder, [{ kind: "erased", at: now(), by, lines: own.map(({ hash }) => hash), reason }], lock);
    return { lines: own.length, contents: clearErased(folder) };
  });
}

/** Finishes what erased lines ask for: bodies become null, and content that no line names any more goes. The caller holds the register. */
export function clearErased(folder: string): number {
  const { texts, lines, doubtful } = chainOf(folder);
  const readable: readonly RegisterLine[] = [...lines, ...doubtful];
  const erased = new Set(readable.flatMap((line) => (line.kind === "erased" ? line.lines : [])));
  if (erased.size === 0) return 0;
  const cleared = texts.map((text) => {
    const line = parseLine(text)?.line;
    return line && erased.has(line.hash) ? writeLine(withoutBody(line)) : text;
  });
  if (cleared.some((text, i) => text !== texts[i]))
    writeWhole(registerFile(folder), `${cleared.join("\n")}\n`);
  const named = new Set(
    readable.filter(({ hash }) => !erased.has(hash)).flatMap((line) => contentsNamed(line)),
  );
  return keptHashes(folder).filter((hash) => !named.has(hash) && dropContent(folder, hash)).length;
}

/** Hashes of content that a line names. */
export function contentsNamed(line: RegisterLine): string[] {
  if (line.kind === "signed") return [line.text];
  return line.kind === "made" || line.kind === "sent" || line.kind === "withdrawn" ? [line.sha256] : [];
}

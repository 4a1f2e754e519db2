/** A patient asks for everything: one folder with all that the clinic holds of them, and nothing of anybody else. */
import { join, relative } from "node:path";
import type { Problem } from "../base/problem.js";
import { hasError } from "../base/problem.js";
import { safeName, writeWhole } from "../files/write.js";
import { documentsIn } from "./documents.js";
import { contentOf } from "./kept.js";
import type { RegisterLine } from "./line.js";
import { bytesIfThere, filesOfPatient } from "./patient.js";
import { readRegister } from "./read.js";

export interface Gathered {
  /** Paths in the new folder. */
  readonly files: readonly string[];
  readonly visits: number;
  readonly photos: number;
  readonly documents: number;
  readonly lines: number;
  readonly problems: readonly Problem[];
}

/**
 * Writes visits (with their photos, as they lie in the clinic), visits as they were signed, every document of the register, and its
 * lines. With an error nothing is written. Throws NotWritten.
 */
export function gatherPatient(folder: string, number: string, out: string): Gathered {
  const { visits, photos, problems } = filesOfPatient(folder, number);
  const { lines: sound, doubtful, problems: ofRegister } = readRegister(folder);
  const lines = [...sound, ...doubtful].filter((line) => "patient" in line && line.patient === number);
  const none = { files: [], visits: 0, photos: 0, documents: 0, lines: 0 };
  if (hasError(problems)) return { ...none, problems: [...problems, ...ofRegister] };
  const files: string[] = [];
  const missing: Problem[] = [];
  const put = (name: string, bytes: Uint8Array | string | undefined) => {
    if (bytes === undefined) {
      missing.push(notKept(name));
      return;
    }
    writeWhole(join(out, name), bytes);
    files.push(name);
  };
  for (const file of [...visits, ...photos]) put(join("visits", relative(folder, file)), bytesIfThere(file));
  for (const line of lines)
    if (line.kind === "signed")
      put(
        join("as-signed", `${safeName(line.visit, `edition-${line.edition}`, line.text.slice(0, 8))}.yaml`),
        contentOf(folder, line.text)?.bytes,
      );
  const documents = documentsIn(lines);
  for (const { made } of documents) {
    const name = safeName(
      made.name.replace(/\.pdf$/iu, ""),
      `edition-${made.edition}`,
      made.sha256.slice(0, 8),
    );
    put(join("documents", `${name}.pdf`), contentOf(folder, made.sha256)?.bytes);
  }
  if (lines.length > 0) put("register.jsonl", lines.map(asText).join(""));
  return {
    files,
    visits: visits.length,
    photos: photos.length,
    documents: documents.length,
    lines: lines.length,
    problems: [...problems, ...ofRegister, ...missing],
  };
}

/** A line without what only binds it to lines of others. */
function asText(line: RegisterLine): string {
  const { previous: _previous, ...own } = line;
  return `${JSON.stringify(own)}\n`;
}

function notKept(name: string): Problem {
  return {
    severity: "error",
    id: "content-not-kept",
    message: `${name}: the register names it, and its content is not kept any more or was changed`,
  };
}

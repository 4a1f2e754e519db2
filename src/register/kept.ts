/** The content that lines of the register name, each under its hash: documents as they were made, visit files as they were signed. */
import { readdirSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { sha256 } from "../base/sha256.js";
import { writeTogether } from "../files/write.js";
import { registerFolder } from "./places.js";

/** A visit file is kept as text under a name that no command takes for a visit. */
export type KeptKind = "pdf" | "txt";

const KINDS: readonly KeptKind[] = ["pdf", "txt"];

const placeOf = (folder: string, hash: string, kind: KeptKind): string =>
  join(registerFolder(folder), hash.slice(0, 2), `${hash}.${kind}`);

export interface Kept {
  readonly bytes: Uint8Array;
  readonly kind: KeptKind;
}

/** Keeps content under its hash, whole and on disk at the return; what is there already stays. Throws NotWritten. */
export function keepContent(folder: string, contents: readonly Kept[]): string[] {
  const files = contents.map(({ bytes, kind }) => {
    const hash = sha256(bytes);
    return { hash, file: placeOf(folder, hash, kind), bytes };
  });
  writeTogether(files.filter(({ file, hash }) => hashOfFile(file) !== hash));
  return files.map(({ hash }) => hash);
}

/** The content of a hash, byte for byte; undefined when it is not kept, or is no longer what the hash says. */
export function contentOf(folder: string, hash: string): Kept | undefined {
  for (const kind of KINDS) {
    const bytes = bytesOf(placeOf(folder, hash, kind));
    if (bytes && sha256(bytes) === hash) return { bytes, kind };
  }
  return undefined;
}

/** Removes content for good; true when there was some. */
export function dropContent(folder: string, hash: string): boolean {
  const there = KINDS.map((kind) => placeOf(folder, hash, kind)).filter((file) => bytesOf(file));
  for (const file of there) rmSync(file, { force: true });
  return there.length > 0;
}

/** Hashes of everything that is kept. */
export function keptHashes(folder: string): string[] {
  const names = (at: string) => {
    try {
      return readdirSync(at);
    } catch {
      return [];
    }
  };
  return names(registerFolder(folder))
    .filter((name) => /^[0-9a-f]{2}$/u.test(name))
    .flatMap((name) => names(join(registerFolder(folder), name)))
    .flatMap((name) => /^([0-9a-f]{64})\.(?:pdf|txt)$/u.exec(name)?.[1] ?? []);
}

function hashOfFile(file: string): string | undefined {
  const bytes = bytesOf(file);
  return bytes && sha256(bytes);
}

/** The bytes of a file; undefined where it cannot be read. */
export function bytesOf(file: string): Uint8Array | undefined {
  try {
    return readFileSync(file);
  } catch {
    return undefined;
  }
}

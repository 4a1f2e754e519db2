/** A quick look at a visit file, without weighing it: its hash, the ids it names and whose visit it is. */
import { parse } from "yaml";
import { sha256 } from "../base/sha256.js";
import { openYaml } from "../base/yaml-source.js";
import { readText } from "../visit/read.js";
import type { Identity } from "../visit/same-patient.js";
import { plainBlocks } from "./plain-blocks.js";

/** Those parts that letters name. */
export type Named = Pick<Identity, "visit" | "patient" | "given" | "family">;

export interface Scan {
  readonly file: string;
  /** Over the text; over nothing but the reason when the file cannot be read. */
  readonly hash: string;
  readonly readable: boolean;
  /** False for a file that speaks of no visit or patient. */
  readonly holdsVisit: boolean;
  /** Photo files as written, to see when one changes. */
  readonly photos: readonly string[];
  /** Absent when it cannot be made out; then the visit itself fails to be read. */
  readonly identity?: Identity;
}

/** Looks at one file. Never throws. */
export function scanVisit(file: string): Scan {
  const { value: text, problems } = readText(file);
  if (text === undefined) {
    const why = problems.map((p) => p.id).join();
    return { file, hash: sha256(why), readable: false, holdsVisit: true, photos: [] };
  }
  return scanText(file, text);
}

/** The same of a text that is not yet a file. */
export function scanText(file: string, text: string): Scan {
  const identity = identityIn(text);
  return {
    file,
    hash: sha256(text),
    readable: true,
    holdsVisit: /^\s*["'{]*\s*(visit|patient)["']?\s*[:=]/mu.test(text),
    photos: photosNamed(text),
    ...(identity ? { identity } : {}),
  };
}

/** Photo files that a visit names, as written. */
export function photosNamed(text: string): string[] {
  return valuesOf("file", text);
}

/** What stands after a key wherever it occurs, in either style of YAML. */
function valuesOf(key: string, text: string): string[] {
  const pattern = new RegExp(`\\b${key}["']?\\s*:\\s*["']?([^"',}\\n#]+)`, "gu");
  return [...text.matchAll(pattern)].map((m) => (m[1] ?? "").trim());
}

function identityIn(text: string): Identity | undefined {
  return (
    identityFrom(topLevel(text, ["visit", "patient"], ["accept"])) ??
    identityFrom(openYaml(text, "", { asWritten: true }).source?.value)
  );
}

/** The named top-level blocks alone, parsed without their surroundings; undefined when that does not work. */
function topLevel(text: string, needed: readonly string[], optional: readonly string[]): unknown {
  const keys = [...needed, ...optional];
  if (optional.some((key) => text.includes(`"${key}"`) || text.includes(`'${key}'`))) return undefined;
  const pattern = new RegExp(
    `^(?:${keys.join("|")})\\s*:[^\\n]*(?:\\n(?:(?:[ \\t#}\\]]|-[ \\t])[^\\n]*)?)*`,
    "gmu",
  );
  const blocks = (text.replaceAll("\r\n", "\n").match(pattern) ?? []).join("\n");
  const plain = plainBlocks(blocks.split("\n"));
  if (plain) return plain;
  try {
    // A key written twice, or an alias, throws.
    return parse(blocks, { schema: "failsafe", maxAliasCount: 0, logLevel: "silent" });
  } catch {
    return undefined;
  }
}

function identityFrom(value: unknown): Identity | undefined {
  const at = (...path: string[]): string => {
    let here: unknown = value;
    for (const key of path) here = isRecord(here) && Object.hasOwn(here, key) ? here[key] : undefined;
    return typeof here === "string" || typeof here === "number" ? String(here).normalize("NFC").trim() : "";
  };
  const identity: Identity = {
    visit: at("visit", "id"),
    date: at("visit", "date"),
    patient: at("patient", "id"),
    given: at("patient", "name", "given"),
    family: at("patient", "name", "family"),
    born: at("patient", "born"),
    sex: at("patient", "sex"),
    accepts: acceptedIn(value),
  };
  return identity.visit !== "" && identity.patient !== "" ? identity : undefined;
}

/** Ids accepted with a reason; without one the visit itself is faulty. */
function acceptedIn(value: unknown): string[] {
  const lines = isRecord(value) && Array.isArray(value.accept) ? value.accept : [];
  return lines.flatMap((line: unknown) =>
    isRecord(line) && typeof line.id === "string" && line.reason ? [line.id] : [],
  );
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null;
}

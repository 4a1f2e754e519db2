/** A quick look at a visit file, without weighing it: its hash, the ids it names and whose visit it is. */
import { createHash } from "node:crypto";
import { parse } from "yaml";
import { openYaml } from "../base/yaml-source.js";
import { readText } from "../visit/read.js";

export interface Identity {
  readonly visit: string;
  readonly patient: string;
  readonly given: string;
  readonly family: string;
  readonly born: string;
}

export interface Scan {
  readonly file: string;
  /** Over the text; over nothing but the reason when the file cannot be read. */
  readonly hash: string;
  readonly readable: boolean;
  /** False for a file that speaks of no visit or patient. */
  readonly holdsVisit: boolean;
  /** Every value that stands after an `id:`, to find files of the same patient. */
  readonly ids: readonly string[];
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
    return { file, hash: sha256(why), readable: false, holdsVisit: true, ids: [], photos: [] };
  }
  const identity = identityIn(text);
  return {
    file,
    hash: sha256(text),
    readable: true,
    holdsVisit: /^\s*["'{]*\s*(visit|patient)["']?\s*[:=]/mu.test(text),
    photos: valuesOf("file", text),
    ids: valuesOf("id", text),
    ...(identity ? { identity } : {}),
  };
}

/** What stands after a key wherever it occurs, in either style of YAML. */
function valuesOf(key: string, text: string): string[] {
  const pattern = new RegExp(`\\b${key}["']?\\s*:\\s*["']?([^"',}\\n#]+)`, "gu");
  return [...text.matchAll(pattern)].map((m) => (m[1] ?? "").trim());
}

function identityIn(text: string): Identity | undefined {
  return (
    identityOf(topLevel(text, ["visit", "patient"])) ??
    identityOf(openYaml(text, "", { asWritten: true }).source?.value)
  );
}

/** The named top-level blocks alone, parsed without their surroundings; undefined when that does not work. */
function topLevel(text: string, keys: readonly string[]): unknown {
  const pattern = new RegExp(`^(?:${keys.join("|")})\\s*:[^\\n]*(?:\\n(?:[ \\t#}\\]][^\\n]*)?)*`, "gmu");
  const blocks = text.replaceAll("\r\n", "\n").match(pattern) ?? [];
  if (blocks.length !== keys.length || blocks.some((b) => /[&*]\w/u.test(b))) return undefined;
  try {
    return parse(blocks.join("\n"), { schema: "failsafe", maxAliasCount: 0, logLevel: "silent" });
  } catch {
    return undefined;
  }
}

function identityOf(value: unknown): Identity | undefined {
  const at = (...path: string[]): string => {
    let here: unknown = value;
    for (const key of path) here = isRecord(here) && Object.hasOwn(here, key) ? here[key] : undefined;
    return typeof here === "string" || typeof here === "number" ? String(here).normalize("NFC").trim() : "";
  };
  const identity: Identity = {
    visit: at("visit", "id"),
    patient: at("patient", "id"),
    given: at("patient", "name", "given"),
    family: at("patient", "name", "family"),
    born: at("patient", "born"),
  };
  return identity.visit !== "" && identity.patient !== "" ? identity : undefined;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null;
}

export function sha256(bytes: string | Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}

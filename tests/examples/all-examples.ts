/** Every example visit, examined and made into documents as the command does it. */
import { readFileSync } from "node:fs";
import { join, relative } from "node:path";
import type { Examined } from "../../src/batch/examine.js";
import { type MadeDocument, makeDocuments } from "../../src/batch/make.js";
import { lookAround, type Prepared, prepareFile } from "../../src/batch/prepare.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import type { Clinic } from "../../src/visit/clinic.js";
import { root } from "../house/source-files.js";

export const knowledge = loadKnowledge();
const looked = lookAround([join(root, "examples", "patients")], { knowledge, today: "2026-11-25" });
export const { around } = looked;
export const exampleFiles: readonly string[] = looked.files;

/** `TS-40417/2026-03-12` */
export function nameOf(file: string): string {
  return relative(join(root, "examples", "patients"), file).replace(/\.yaml$/u, "");
}

export function ready(file: string): Prepared & { readonly clinic: Clinic } {
  const { value, clinic, problems } = prepareFile(file, around);
  if (!value || !clinic) throw new Error(`${file}: ${JSON.stringify(problems)}`);
  return { ...value, clinic };
}

export function examined(file: string): Examined {
  return ready(file).examined;
}

export async function made(
  file: string,
  documents: readonly string[],
  language?: string,
): Promise<MadeDocument[]> {
  const { examined: value, change, clinic } = ready(file);
  const result = await makeDocuments(value, {
    knowledge,
    clinic,
    documents,
    format: "pdf",
    overrides: { ...(change ? { change } : {}), ...(language ? { language } : {}) },
  });
  if (result.made.length === 0) throw new Error(`${file}: ${JSON.stringify(result.problems)}`);
  return result.made;
}

export function textOf(path: string): string {
  return readFileSync(path, "utf8");
}

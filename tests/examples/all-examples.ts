/** Every example visit, examined and made into documents as the command does it. */
import { readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { type Examined, examineVisit } from "../../src/batch/examine.js";
import { type MadeDocument, makeDocuments } from "../../src/batch/make.js";
import { clinicFor, earlierVisits } from "../../src/cli/context.js";
import { visitFiles } from "../../src/cli/inputs.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { compareVisits } from "../../src/measure/change.js";
import { root } from "../house/source-files.js";

export const knowledge = loadKnowledge();
export const exampleFiles: readonly string[] = visitFiles([join(root, "examples", "patients")]);

/** `TS-40417/2026-03-12` */
export function nameOf(file: string): string {
  return relative(join(root, "examples", "patients"), file).replace(/\.yaml$/u, "");
}

export function examined(file: string): Examined {
  const { clinic } = clinicFor(file);
  if (!clinic) throw new Error(`no clinic for ${file}`);
  const first = examineVisit(file, { knowledge, clinic, today: "2026-11-25" });
  if (!first.value) throw new Error(`${file}: ${JSON.stringify(first.problems)}`);
  const earlier = earlierVisits(file, first.value.visit, knowledge);
  const again =
    earlier.length > 0 ? examineVisit(file, { knowledge, clinic, today: "2026-11-25", earlier }) : first;
  if (!again.value) throw new Error(`${file}: ${JSON.stringify(again.problems)}`);
  return again.value;
}

export async function made(file: string, documents: readonly string[]): Promise<MadeDocument[]> {
  const { clinic } = clinicFor(file);
  if (!clinic) throw new Error(`no clinic for ${file}`);
  const value = examined(file);
  const earlier = earlierVisits(file, value.visit, knowledge);
  const change = earlier.length > 0 ? compareVisits([...earlier, value.visit], knowledge).value : undefined;
  const result = await makeDocuments(value, {
    knowledge,
    clinic,
    documents,
    format: "pdf",
    overrides: change ? { change } : {},
  });
  if (result.made.length === 0) throw new Error(`${file}: ${JSON.stringify(result.problems)}`);
  return result.made;
}

export function textOf(path: string): string {
  return readFileSync(path, "utf8");
}

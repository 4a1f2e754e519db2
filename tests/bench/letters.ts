/** Visit files -> finished letters, as a batch composes them, for measuring what is done with letters afterwards. */
import { dirname, join } from "node:path";
import { makeDocuments } from "../../src/batch/make.js";
import { prepareVisit } from "../../src/batch/prepare.js";
import { VisitReader } from "../../src/clinic-folder/visit-reader.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import type { Letter } from "../../src/letter/document.js";
import { readClinic } from "../../src/visit/clinic.js";

/** The letters and handouts of these visits. Throws when one cannot be made. */
export async function lettersOf(folder: string, files: readonly string[]): Promise<Letter[]> {
  const knowledge = loadKnowledge();
  const clinic = readClinic(join(folder, "clinic.yaml")).value;
  if (!clinic) throw new Error("the clinic file of the examples cannot be read");
  const reader = new VisitReader(knowledge, new Date().toISOString().slice(0, 10));
  const letters: Letter[] = [];
  for (const file of files) {
    const beside = files.filter((other) => other !== file && dirname(other) === dirname(file));
    const { value, problems } = prepareVisit({ file, beside, clinic, reader });
    if (!value) throw new Error(`${file}: ${problems.map((p) => p.message).join("; ")}`);
    const { made } = await makeDocuments(value.examined, {
      knowledge,
      clinic,
      documents: ["referral-letter", "handout"],
      format: "html",
      ...(value.change ? { overrides: { change: value.change } } : {}),
    });
    letters.push(...made.map((document) => document.letter));
  }
  return letters;
}

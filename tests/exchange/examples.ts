/** Every example visit with what is worked out from it, for the tests of the exchange room. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { interpret } from "../../src/interpret/interpret.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { measure } from "../../src/measure/index.js";
import { type Clinic, readClinic } from "../../src/visit/clinic.js";
import { readVisit } from "../../src/visit/read.js";
import { root } from "../house/source-files.js";

export const knowledge = loadKnowledge();

const clinicOutcome = readClinic(join(root, "examples", "clinic.yaml"));
if (!clinicOutcome.value) throw new Error("the example clinic file cannot be read");
export const clinic: Clinic = clinicOutcome.value;

const patients = join(root, "examples", "patients");
export const exampleFiles: readonly string[] = readdirSync(patients, { recursive: true, encoding: "utf8" })
  .filter((f) => /(?<!\.marks)\.yaml$/u.test(f))
  .sort()
  .map((f) => join(patients, f));

export const examples = exampleFiles.map((file) => {
  const { value: visit } = readVisit(file, knowledge, { today: "2027-01-01" });
  if (!visit) throw new Error(`${file} cannot be read`);
  const measures = measure(visit, knowledge);
  return { file, visit, measures, interpretation: interpret(visit, measures, knowledge) };
});

/** Visits made of what matters in them: the rest is filled with invented people. */
import { join } from "node:path";
import { stringify } from "yaml";
import { makeDocuments } from "../../src/batch/make.js";
import { interpret } from "../../src/interpret/interpret.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { measure } from "../../src/measure/index.js";
import { readClinic } from "../../src/visit/clinic.js";
import { parseVisit } from "../../src/visit/read.js";
import type { Visit } from "../../src/visit/visit.js";
import { root } from "../house/source-files.js";

export const knowledge = loadKnowledge();
const clinic = readClinic(join(root, "examples", "clinic.yaml")).value;

const BASE = {
  format: 1,
  visit: { id: "TS-2026-0900", date: "2026-03-12", status: "draft", seen_by: "anneli-thorsby" },
  patient: { id: "TS-49001", name: { title: "Mx", given: "Iben", family: "Skarholt" }, sex: "female" },
  send_to: [{ role: "general practitioner", name: "Dr Ilse Brandt", address: ["Quayside Practice"] }],
};

/** A visit file of these parts, read. */
export function visitOf(partial: Readonly<Record<string, unknown>>): Visit {
  const part = (key: "visit" | "patient") => ({ ...BASE[key], ...(partial[key] as object | undefined) });
  const file = { ...BASE, ...partial, visit: part("visit"), patient: part("patient") };
  const { value, problems } = parseVisit(stringify(file), "scenario.yaml", knowledge);
  if (!value) throw new Error(problems.map((p) => `${p.path}: ${p.message}`).join("; "));
  return value;
}

export function examined(visit: Visit) {
  const measures = measure(visit, knowledge);
  return { file: "scenario.yaml", visit, measures, interpretation: interpret(visit, measures, knowledge) };
}

/** Letter and handout, or those wanted of them, as plain text, each on one line. */
export async function textsOf(
  of: ReturnType<typeof examined>,
  documents: readonly string[] = ["referral-letter", "handout"],
): Promise<(kind: string) => string> {
  if (!clinic) throw new Error("the example clinic cannot be read");
  const result = await makeDocuments(of, {
    knowledge,
    clinic,
    documents,
    format: "text",
    overrides: {},
  });
  return (kind) => {
    const made = result.made.find((m) => m.name.includes(kind));
    if (!made) throw new Error(`no ${kind}: ${JSON.stringify(result.problems)}`);
    return Buffer.from(made.bytes).toString("utf8").replace(/\s+/gu, " ");
  };
}

/** The examples, examined once, and documents composed from them. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { inPackage } from "../../src/base/root.js";
import { examineVisit } from "../../src/batch/examine.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import type { Letter } from "../../src/letter/document.js";
import { type ComposeInput, composeLetter } from "../../src/letter/letter.js";
import { compareVisits } from "../../src/measure/change/compare.js";
import { type Clinic, readClinic } from "../../src/visit/clinic.js";
import type { Visit } from "../../src/visit/visit.js";

export const knowledge = loadKnowledge();
export const clinic = theClinic();

export type Example = Pick<ComposeInput, "visit" | "measures" | "interpretation" | "change"> & {
  readonly name: string;
};

/** Every example visit, with its change since earlier visits of the same patient. */
export const examples: readonly Example[] = readExamples();

function theClinic(): Clinic {
  const { value, problems } = readClinic(inPackage("examples", "clinic.yaml"));
  if (!value) throw new Error(problems[0]?.message);
  return value;
}

function readExamples(): Example[] {
  const folder = inPackage("examples", "patients");
  const files = readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((f) => /(?<!\.marks)\.yaml$/u.test(f))
    .sort();
  const visits: Visit[] = [];
  return files.map((file) => {
    const { value, problems } = examineVisit(join(folder, file), {
      knowledge,
      clinic,
      today: "2026-11-25",
      earlier: visits.filter((v) => file.startsWith(v.patient.id)),
    });
    if (!value) throw new Error(`${file}: ${problems[0]?.message}`);
    const { visit, measures, interpretation } = value;
    visits.push(visit);
    const all = visits.filter((v) => v.patient.id === visit.patient.id);
    const change = all.length > 1 ? compareVisits(all, knowledge).value : undefined;
    return { name: file, visit, measures, interpretation, ...(change ? { change } : {}) };
  });
}

/** The example of a visit id. */
export function exampleOf(visit: string): Example {
  const found = examples.find((e) => e.visit.id === visit);
  if (!found) throw new Error(`no example ${visit}`);
  return found;
}

const composed = new WeakMap<object, Map<string, Letter>>();

/** The finished document; throws with the problem when there is none. What an example says in a language is composed once for all tests. */
export function compose(
  kind: string,
  example: Omit<Example, "name">,
  options: Partial<ComposeInput> = {},
): Letter {
  if (Object.keys(options).some((key) => key !== "language")) return composeAnew(kind, example, options);
  const letters = composed.get(example) ?? new Map<string, Letter>();
  composed.set(example, letters);
  const key = `${kind} ${options.language}`;
  const letter = letters.get(key) ?? composeAnew(kind, example, options);
  letters.set(key, letter);
  return letter;
}

function composeAnew(kind: string, example: Omit<Example, "name">, options: Partial<ComposeInput>): Letter {
  const { value, problems } = composeLetter(kind, { ...example, clinic, knowledge, ...options });
  if (!value) throw new Error(problems.map((p) => `${p.file}:${p.line} ${p.message}`).join("\n"));
  return value;
}

/** Words of an HTML text, entities resolved, tags as spaces. */
export function wordsIn(html: string): string {
  return html
    .replace(/<[^>]*aria-label="([^"]*)"[^>]*>/gu, " $1 ")
    .replace(/<[^>]*>/gu, " ")
    .replace(/&#x27;|&#39;/gu, "'")
    .replace(/&quot;/gu, '"')
    .replace(/&lt;/gu, "<")
    .replace(/&gt;/gu, ">")
    .replace(/&#x3D;/gu, "=")
    .replace(/&#x60;/gu, "`")
    .replace(/&nbsp;/gu, "\u00a0")
    .replace(/&amp;/gu, "&")
    .replace(/\s+/gu, " ")
    .trim();
}

/** The example with other parts of its visit; nothing is examined again. */
export function withVisit(example: Example, parts: Partial<Visit>): Example {
  return { ...example, visit: { ...example.visit, ...parts } };
}

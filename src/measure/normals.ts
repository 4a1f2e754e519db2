/** Sets a measure against the published range for its place and kind of person, where a source gives one; else none. */
import { foldWord } from "../base/nearest.js";
import { type Normal, normalsFileSchema } from "../knowledge/normals-schema.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Patient, Visit } from "../visit/visit.js";
import type { Measured, NormalRange } from "./types.js";

/** All published ranges, in file order. Throws when a shipped file does not fit its schema. */
export function readNormals(knowledge: Knowledge): readonly Normal[] {
  return Object.keys(knowledge.normals)
    .sort()
    .flatMap((name) => normalsFileSchema.parse(knowledge.normals[name]));
}

/** The measure with the first range that fits it; unchanged when none does. */
export function withNormal(measured: Measured, visit: Visit, normals: readonly Normal[]): Measured {
  const fitting = normals.find((n) => n.measure === measured.id && fits(n, measured, visit));
  if (!fitting) return measured;
  return { ...measured, normal: range(fitting, measured.value) };
}

function fits(normal: Normal, measured: Measured, visit: Visit): boolean {
  const { patient } = visit;
  if (normal.regions && (!measured.site || !normal.regions.includes(measured.site))) return false;
  if (normal.sex && normal.sex !== patient.sex) return false;
  const age = ageAt(patient, visit.date);
  if (normal.age && (age < normal.age[0] || age > normal.age[1])) return false;
  return !normal.ancestry || describes(patient.ancestry, normal.ancestry);
}

/** Whole years at a date; both ISO dates. */
export function ageAt(patient: Patient, date: string): number {
  const years = Number(date.slice(0, 4)) - Number(patient.born.slice(0, 4));
  return date.slice(5) < patient.born.slice(5) ? years - 1 : years;
}

function describes(ancestry: string | undefined, words: readonly string[]): boolean {
  if (!ancestry) return false;
  const said = ` ${foldWord(ancestry).replace(/[^\p{L}\p{N}]+/gu, " ")} `;
  return words.some((word) => said.includes(` ${foldWord(word)} `));
}

function range(n: Normal, value: number): NormalRange {
  const low = n.above ?? n.at_least ?? (n.mean && n.sd ? n.mean[0] - 2 * n.sd : undefined);
  const high = n.below ?? n.at_most ?? (n.mean && n.sd ? n.mean[1] + 2 * n.sd : undefined);
  const isLow = low !== undefined && (n.above === undefined ? value < low : value <= low);
  const isHigh = high !== undefined && (n.below === undefined ? value > high : value >= high);
  return {
    ...(low === undefined ? {} : { low }),
    ...(high === undefined ? {} : { high }),
    group: n.group,
    source: n.source,
    position: isLow ? "below" : isHigh ? "above" : "within",
    ...(n.note ? { note: n.note } : {}),
  };
}

/** What a plausibility check finds: which kind, in which words, at which place of the visit file. */
import type { Visit } from "../../visit/visit.js";
import type { Measured, Measures } from "../types.js";
import type { PlausibleId } from "./kinds.js";

export interface Slip {
  readonly id: PlausibleId;
  readonly severity: "warning" | "note";
  readonly message: string;
  readonly path: string;
}

export type Check = (visit: Visit, measures: Measures) => readonly Slip[];

/** The measure of that id at a site of the visit's list. */
export function measuredAt(measures: Measures, id: string, siteIndex?: number): Measured | undefined {
  return measures.measured.find((m) => m.id === id && (siteIndex === undefined || m.siteIndex === siteIndex));
}

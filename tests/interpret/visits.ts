/** Short ways to write visits for the tests of this room. Values are invented and unlike any default. */
import type { Measures } from "../../src/measure/types.js";
import type { Amount, FindingSeen, History, Patient, Region, Site, Visit } from "../../src/visit/visit.js";
import { visit } from "../measure/visit-for-tests.js";

export const NO_MEASURES: Measures = { measured: [], notMeasured: [], rules: [] };

/** `present` without amount is `seen`; `none` is looked for and absent. */
export type Shown = Amount | "seen" | "none";

export function seen(findings: Readonly<Record<string, Shown>>): FindingSeen[] {
  return Object.entries(findings).map(([finding, how]) => ({
    finding,
    seen: how === "none" ? { state: "absent" } : { state: "present", amount: how === "seen" ? null : how },
  }));
}

export function site(region: Region, findings: Readonly<Record<string, Shown>>): Site {
  return { site: region, findings: seen(findings), fields: [], diametersUm: [], photos: [] };
}

export interface VisitParts extends Partial<Omit<Visit, "patient" | "history">> {
  readonly patient?: Partial<Patient>;
  readonly history?: Partial<History>;
}

/** A woman of 34 with nothing recorded but what is given. */
export function visitWith(parts: VisitParts): Visit {
  const { patient, history, ...rest } = parts;
  const bare = visit();
  return {
    ...bare,
    id: "TS-2026-0907",
    date: "2026-05-19",
    status: "draft",
    seenBy: "rafiq-oyelaran",
    reason: "",
    patient: {
      ...bare.patient,
      id: "TS-50311",
      name: { given: "Runa", family: "Tollefsen-Achebe" },
      born: "1992-02-11",
      ...patient,
    },
    history: { ...bare.history, ...history },
    ...rest,
  };
}

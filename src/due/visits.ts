/** The visits of a clinic as open work sees them, and those of one person together. */
import { groupBy } from "../base/group.js";
import type { Clinic } from "../visit/clinic.js";
import { type Identity, openDifferences } from "../visit/same-patient.js";
import type { Extract } from "./extract.js";

export type WorkClinic = Pick<Clinic, "lateAfter" | "people">;

export interface WorkVisit {
  /** Path of the visit file. */
  readonly path: string;
  /** Whose visit it is, as far as that can be made out. */
  readonly identity?: Identity;
  /** Absent where the visit cannot be read. */
  readonly extract?: Extract;
  /** What makes it doubtful whose visit this is, as sentences; none where all is well or accepted. */
  readonly doubts: readonly string[];
}

/** A visit that could be read. */
export type ReadVisit = WorkVisit & { readonly extract: Extract };

export function isRead(visit: WorkVisit): visit is ReadVisit {
  return visit.extract !== undefined;
}

/**
 * The visits of each person, oldest first. Two visits stand in one chain only where their number is the same and nothing about
 * them differs that nobody has accepted; a visit that is doubtful in any way stands alone, so that it closes nothing of another's.
 */
export function chainsOf(visits: readonly ReadVisit[]): ReadVisit[][] {
  const chains: ReadVisit[][] = [];
  for (const group of groupBy(visits, (v) => v.extract.identity.patient).values()) {
    const all = group.map((v) => v.extract.identity);
    const own: ReadVisit[][] = [];
    for (const visit of group.toSorted(byDay)) {
      const isOfPerson = (chain: readonly ReadVisit[]) =>
        chain.every(
          (other) =>
            other.doubts.length === 0 &&
            openDifferences(visit.extract.identity, other.extract.identity, all).length === 0,
        );
      const chain = visit.doubts.length === 0 ? own.find(isOfPerson) : undefined;
      if (chain) chain.push(visit);
      else own.push([visit]);
    }
    chains.push(...own);
  }
  return chains;
}

function byDay(a: ReadVisit, b: ReadVisit): number {
  const [x, y] = [a.extract.identity, b.extract.identity];
  return x.date < y.date ? -1 : x.date > y.date ? 1 : x.visit < y.visit ? -1 : 1;
}

/** Those of a chain whose day is later: what was recorded on one day closes nothing of that day. */
export function laterThan(visit: ReadVisit, chain: readonly ReadVisit[]): ReadVisit[] {
  return chain.filter((other) => other.extract.identity.date > visit.extract.identity.date);
}

/** Small invented visits as open work sees them. */
import type { Extract, Weighed } from "../../src/due/extract.js";
import { openWork } from "../../src/due/open-work.js";
import type { WorkVisit } from "../../src/due/visits.js";
import type { WorkLine } from "../../src/due/work-line.js";
import type { Identity } from "../../src/visit/same-patient.js";

export const UNWEIGHED: Weighed = {
  impression: [],
  leading: null,
  verdict: "no-impression",
  proven: [],
  notAssessed: [],
};

export const MARIT: Identity = {
  visit: "V-1",
  date: "2026-03-12",
  patient: "TS-40417",
  given: "Marit",
  family: "Solheim",
  born: "1991-07-04",
  sex: "female",
  accepts: [],
};

export const CLINIC = {
  lateAfter: { culture: 42, "bacterial culture": 7 },
  people: {
    "anneli-thorsby": { name: "Dr Anneli Thorsby", role: "Consultant dermatologist", maySign: true },
  },
};

/** A signed visit that leaves nothing open, but for what is said. */
export function visit(
  who: Partial<Identity> = {},
  holds: Partial<Omit<Extract, "identity">> = {},
  doubts: readonly string[] = [],
): WorkVisit & { readonly extract: Extract } {
  const identity = { ...MARIT, ...who };
  return {
    path: `/clinic/${identity.visit}.yaml`,
    identity,
    doubts,
    extract: {
      identity,
      signed: { at: `${identity.date}T12:00+00:00`, edition: 1 },
      changed: false,
      lines: [],
      closes: [],
      unasked: [],
      answered: [],
      tests: [],
      asks: [],
      followUpWeeks: null,
      recipients: ["Dr Ilse Brandt"],
      weighed: UNWEIGHED,
      ...holds,
    },
  };
}

/** Lines as `kind visit since by!`: the mark says that it is due. */
export function told(lines: readonly WorkLine[]): string[] {
  return lines.map(
    ({ kind, visit: of, since, by, due }) => `${kind} ${of} ${since}${by ? ` ${by}` : ""}${due ? "!" : ""}`,
  );
}

export function work(today: string, ...visits: readonly WorkVisit[]): string[] {
  return told(openWork(visits, null, CLINIC, today));
}

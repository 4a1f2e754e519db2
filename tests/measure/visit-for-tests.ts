/** A small checked visit of an invented patient, with every default unlike the ones in code. */
import type { Site, Visit } from "../../src/visit/visit.js";

/** A site with nothing recorded but what is given. */
export function site(region: Site["site"], given: Partial<Site> = {}): Site {
  return { site: region, findings: [], fields: [], diametersUm: [], photos: [], ...given };
}

/** A visit with nothing measured but what is given. */
export function visit(given: Partial<Visit> = {}): Visit {
  return {
    format: 1,
    id: "TS-2026-0207",
    date: "2026-04-21",
    status: "signed",
    seenBy: "rafiq-oyelaran",
    reason: "Thinning noticed at the parting.",
    patient: {
      id: "TS-51206",
      name: { given: "Runa", family: "Havelock-Deng" },
      born: "1984-09-30",
      sex: "female",
      address: [],
      language: "en-GB",
      largePrint: false,
    },
    sendTo: [],
    history: {
      symptoms: {},
      family: [],
      past: [],
      medicines: [],
      allergies: [],
      triggers: [],
      hairCare: [],
      contacts: [],
    },
    examination: {},
    pullTest: [],
    scope: {},
    sites: [],
    scores: {},
    tests: [],
    impression: [],
    plan: [],
    accept: [],
    ...given,
  };
}

/** Documents just made -> the faults of each, held against the visit they were made from and everyone else it might speak of. */
import type { Named } from "../../clinic-folder/scan.js";
import type { Knowledge } from "../../knowledge/schema.js";
import type { Clinic } from "../../visit/clinic.js";
import type { Examined } from "../examine.js";
import type { MadeDocument } from "../make.js";
import type { Reason } from "../outcome.js";
import { PatientIndex } from "./patient-index.js";
import { proofDocument } from "./proof-document.js";

/** Everyone of a clinic stays the same from visit to visit. */
const rolls = new WeakMap<readonly Named[], PatientIndex>();

export function proofMade(
  made: readonly MadeDocument[],
  visit: Examined & { readonly clinic: Clinic; readonly knowledge: Knowledge },
  people: readonly Named[],
): Promise<Reason[][]> {
  const roll = rolls.get(people) ?? new PatientIndex(people);
  rolls.set(people, roll);
  // All at once: reading back waits for streams to be unpacked, and another document fills the time.
  return Promise.all(
    made.map((document) => proofDocument({ ...visit, ...document, visit: visit.visit, roll })),
  );
}

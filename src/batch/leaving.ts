/** Documents of a signed visit that may leave the clinic, as its register takes them. */
import { signedVisit, type VisitMade } from "../register/record.js";
import type { Visit } from "../visit/visit.js";
import type { MadeDocument } from "./make.js";

/** Undefined where nothing may leave: a draft, sheets for the clinician, texts without pages. `text` gives the visit file. */
export function leaving(
  visit: Visit,
  documents: readonly MadeDocument[],
  text: () => Uint8Array,
): VisitMade | undefined {
  const signed = signedVisit(visit);
  const mayLeave = documents.filter(({ reader, pages }) => reader !== "clinician" && pages > 0);
  if (!signed || mayLeave.length === 0) return undefined;
  return {
    signed,
    text,
    documents: mayLeave.map(({ kind, recipient, name, pages, sha256, bytes }) => ({
      document: kind,
      addressee: recipient && { name: recipient.name, role: recipient.role, copy: recipient.copy },
      name,
      pages,
      sha256,
      bytes: () => bytes,
    })),
  };
}

/** The documents of a manifest -> those to be printed, in posting order. Pure. */
import type { Manifest, ManifestDocument } from "../manifest.js";

export const PRINT_ORDERS = ["recipient", "postal-code", "worklist"] as const;
/** recipient: by name, so that one pile goes to each. postal-code: by code, then name. worklist: as listed. */
export type PrintOrder = (typeof PRINT_ORDERS)[number];

/** For the clinician's eyes, never for the post. */
const NOT_POSTED = new Set(["reasoning-sheet"]);

export interface PrintOrdered {
  readonly documents: ManifestDocument[];
  readonly leftOut: number;
  /** Of those that might be printed, how many were sent or withdrawn already. */
  readonly closed: number;
}

/** Signed and proofed documents that were not sent by the moment `since`; letters first, then sheets without an address (handouts), each in the order asked for. */
export function printOrder(
  manifest: Manifest,
  { order, since }: { readonly order: PrintOrder; readonly since?: string },
): PrintOrdered {
  const printable = manifest.documents.filter((d) => d.state === "ready" && !NOT_POSTED.has(d.document));
  const documents = printable
    .filter(({ closed_at }) => since === undefined || closed_at === undefined || closed_at > since)
    .sort((a, b) => compare(keyOf(a, order), keyOf(b, order)));
  return {
    documents,
    leftOut: manifest.documents.length - printable.length,
    closed: printable.length - documents.length,
  };
}

function keyOf(d: ManifestDocument, order: PrintOrder): (string | number)[] {
  const name = d.recipient ? familyFirst(d.recipient.name) : "";
  const sort =
    order === "recipient"
      ? [name, d.recipient?.postal_code ?? ""]
      : order === "postal-code"
        ? // An address without a code comes last, where it is seen.
          [d.recipient?.postal_code || "\uffff", name]
        : [];
  return [d.recipient ? 0 : 1, ...sort, d.place, d.document, d.recipient?.index ?? 0];
}

/** `Dr Ilse Brandt` sorts as `brandt ilse dr`. */
function familyFirst(name: string): string {
  return name.normalize("NFC").toLowerCase().split(/\s+/u).reverse().join(" ");
}

function compare(a: readonly (string | number)[], b: readonly (string | number)[]): number {
  for (const [i, x] of a.entries()) {
    const y = b[i];
    if (y === undefined || x === y) continue;
    return x < y ? -1 : 1;
  }
  return 0;
}

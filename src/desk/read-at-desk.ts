/** How the desk and `whorl sign` read a visit: always with the marks beside its photos, which belong to what is signed. */
import type { Knowledge } from "../knowledge/schema.js";
import { photosOnDisk } from "../visit/beside-photo.js";
import { parseVisit, type VisitRead } from "../visit/read.js";

/** A text as the visit of its file. */
export function readAtDesk(
  text: string,
  path: string,
  desk: { readonly knowledge: Knowledge; readonly today: () => string },
): VisitRead {
  const { beside } = photosOnDisk(path);
  return parseVisit(text, path, desk.knowledge, { today: desk.today(), beside });
}

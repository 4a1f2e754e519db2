/** How the desk and `whorl sign` read a visit: always with the marks beside its photos, which belong to what is signed. */
import type { Knowledge } from "../knowledge/schema.js";
import { photosOnDisk } from "../visit/beside-photo.js";
import { parseVisit, type VisitRead } from "../visit/read.js";

interface LastRead {
  readonly text: string;
  readonly path: string;
  readonly today: string;
  readonly read: VisitRead;
}

/** An edit is answered from a reading, and weighed from the same one a moment later. */
const last = new WeakMap<Knowledge, LastRead>();

/** A text as the visit of its file. */
export function readAtDesk(
  text: string,
  path: string,
  desk: { readonly knowledge: Knowledge; readonly today: () => string },
): VisitRead {
  const today = desk.today();
  const before = last.get(desk.knowledge);
  if (before?.text === text && before.path === path && before.today === today) return before.read;
  const { beside } = photosOnDisk(path);
  let hasLooked = false;
  const read = parseVisit(text, path, desk.knowledge, {
    today,
    beside: (...asked) => {
      hasLooked = true;
      return beside(...asked);
    },
  });
  // What stands beside a photo may change while the text does not.
  if (hasLooked) last.delete(desk.knowledge);
  else last.set(desk.knowledge, { text, path, today, read });
  return read;
}

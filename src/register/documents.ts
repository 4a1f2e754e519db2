/** What became of each document in the register: waiting to be sent, sent, replaced or withdrawn. */
import { groupBy } from "../base/group.js";
import { foldWord } from "../base/nearest.js";
import type { MadeLine, RegisterLine, SentLine, WithdrawnLine } from "./line.js";

/**
 * waiting: made and not sent. sent: has left. replaced: another of this or a later edition stands in its place, so it is not to be
 * sent. withdrawn: somebody said that it is not to be sent, or no longer holds.
 */
export type DocumentState = "waiting" | "sent" | "replaced" | "withdrawn";

export interface RegisteredDocument {
  readonly made: MadeLine;
  /** Each time that it left, oldest first; a withdrawn document may have been sent before. */
  readonly sent: readonly SentLine[];
  readonly withdrawn: WithdrawnLine | undefined;
  readonly state: DocumentState;
}

type OfReader = Pick<MadeLine, "visit" | "document" | "addressee">;

/** One document of a visit for one reader, whatever its edition. */
export function readerKey({ visit, document, addressee }: OfReader): string {
  return JSON.stringify([visit, document, addressee && [foldWord(addressee.name), foldWord(addressee.role)]]);
}

/** Every document that the register tells of, in the order in which they were made. */
export function documentsIn(lines: readonly RegisterLine[]): RegisteredDocument[] {
  const made = lines.filter((line) => line.kind === "made");
  const sent = groupBy(
    lines.filter((line) => line.kind === "sent"),
    ({ of }) => of,
  );
  const withdrawn = new Map(lines.flatMap((line) => (line.kind === "withdrawn" ? [[line.of, line]] : [])));
  const states = new Map<MadeLine, DocumentState>();
  for (const group of groupBy(made, readerKey).values()) {
    // A later edition replaces an earlier one even when it was withdrawn itself: what was corrected is not to be sent.
    const holds = group.filter(({ hash }) => !withdrawn.has(hash));
    const newest = Math.max(...group.map(({ edition }) => edition));
    const gone = holds.filter(({ hash }) => sent.has(hash));
    for (const one of group) {
      const stands =
        one.edition === newest &&
        one === holds.at(-1) &&
        !gone.some(({ edition, seal }) => edition === newest && seal === one.seal);
      states.set(
        one,
        withdrawn.has(one.hash) ? "withdrawn" : sent.has(one.hash) ? "sent" : stands ? "waiting" : "replaced",
      );
    }
  }
  return made.map((one) => ({
    made: one,
    sent: sent.get(one.hash) ?? [],
    withdrawn: withdrawn.get(one.hash),
    state: states.get(one) ?? "waiting",
  }));
}

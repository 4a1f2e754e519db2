/** What a new edition of a visit's letter must know of those before it: plain data that a worker can be handed. */
import { foldWord } from "../base/nearest.js";
import type { Problem } from "../base/problem.js";
import { WITHDRAWAL } from "../letter/withdrawal.js";
import { sealOf } from "../visit/seal.js";
import type { Visit } from "../visit/visit.js";
import type { Addressee, MadeLine, RegisterLine } from "./line.js";

export interface KnownLetter extends Pick<MadeLine, "document" | "addressee" | "dated" | "edition" | "seal"> {
  /** Day on which it was sent first; empty while it was not. */
  readonly sentOn: string;
}

export interface KnownEditions {
  readonly letters: readonly KnownLetter[];
  /** Editions whose signing the register saw, so that a letter of theirs that it does not know was never made. */
  readonly signed: readonly number[];
}

/** What the register says of the editions of one visit. */
export function knownEditions(lines: readonly RegisterLine[], visit: string): KnownEditions {
  const sentOn = new Map<string, string>();
  for (const line of lines)
    if (line.kind === "sent" && line.visit === visit && !sentOn.has(line.of)) sentOn.set(line.of, line.on);
  return {
    letters: lines.flatMap((line) => {
      // A notice that a letter was withdrawn is no edition of it.
      if (line.kind !== "made" || line.visit !== visit || line.document === WITHDRAWAL) return [];
      const { document, addressee, dated, edition, seal } = line;
      return [{ document, addressee, dated, edition, seal, sentOn: sentOn.get(line.hash) ?? "" }];
    }),
    signed: [
      ...new Set(
        lines.flatMap((line) => (line.kind === "signed" && line.visit === visit ? [line.edition] : [])),
      ),
    ],
  };
}

export const editionOf = (visit: Visit): number => visit.signed?.edition ?? 1;

/**
 * The day of the letter that a new one replaces for its reader: the last one of an earlier edition. Null when this reader never
 * had one, undefined when that is not known.
 */
export function replacedDay(
  { letters, signed }: KnownEditions,
  edition: number,
  addressee: Pick<Addressee, "name" | "role"> | null,
): string | null | undefined {
  const own = letters
    .filter((one) => one.edition < edition && readerOf(one.addressee) === readerOf(addressee))
    .sort((a, b) => a.edition - b.edition);
  const last = own.at(-1);
  if (last) return last.dated;
  const isKnown = Array.from({ length: edition - 1 }, (_, i) => i + 1).every((one) => signed.includes(one));
  return isKnown ? null : undefined;
}

/** The letters that a fingerprint of the visit depends on: all but those of the edition that is the visit's own. */
export function earlierLetters({ letters, signed }: KnownEditions): readonly KnownLetter[] {
  const newest = Math.max(1, ...signed);
  return letters.filter(({ edition }) => edition < newest).map((one) => ({ ...one, sentOn: "" }));
}

/** The error of a visit whose letter has left with other words under the same edition. */
export function sentProblems(visit: Visit, { letters }: KnownEditions): Problem[] {
  // A seal tells of every change by itself.
  if (visit.status !== "signed" || visit.signed?.seal !== undefined) return [];
  const seal = sealOf(visit);
  const sent = letters.find(
    (one) => one.sentOn !== "" && one.edition === editionOf(visit) && one.seal !== seal,
  );
  if (!sent) return [];
  const reader = sent.addressee ? ` to ${sent.addressee.name}` : "";
  return [
    {
      severity: "error",
      id: "changed-since-sent",
      message: `the visit was changed after its ${sent.document} was sent${reader} on ${sent.sentOn}, and not signed again`,
      path: "signed",
      expected:
        "a new signature with the reason (whorl sign, or the desk), so that the letter says what it replaces",
    },
  ];
}

const readerOf = (one: Pick<Addressee, "name" | "role"> | null): string =>
  one === null ? "" : `${foldWord(one.name)} ${foldWord(one.role)}`;

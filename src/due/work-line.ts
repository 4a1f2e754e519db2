/** One thing that waits, and the order in which things that wait are read. */
import { URGENCIES, type Urgency } from "../visit/visit.js";

/** What can wait, each with the words by which it is headed; `closes` says how it ends. */
export const WAITING = {
  unreadable: {
    says: "Visit that cannot be read",
    closes: "Mend what whorl check says of it.",
  },
  doubt: {
    says: "Doubtful whose visit it is",
    closes: "Correct the number or the name, or accept the message with a reason.",
  },
  "must-not-miss": {
    says: "Must not be missed",
    closes:
      "A test with a result, a plan line that names it, an answer or an acceptance, here or in a later visit.",
  },
  "not-asked": {
    says: "Called for and not asked",
    closes: "Ask, and write yes or no under asked:, here or in a later visit.",
  },
  "test-awaited": {
    says: "Test awaited",
    closes: "Its result in a later visit, by the same name or by result_of.",
  },
  "follow-up-missed": {
    says: "Follow-up past its week",
    closes: "A later visit, or accept follow-up-missed with a reason.",
  },
  "action-unanswered": {
    says: "Asked of others, no result",
    closes:
      "A result in a later visit, a later visit on or after its day, or accept action-unanswered with a reason.",
  },
  draft: {
    says: "Never signed",
    closes: "Sign the visit.",
  },
  changed: {
    says: "Changed since it was signed",
    closes: "Sign it again, with the reason.",
  },
  "not-made": {
    says: "Signed, and nothing made",
    closes: "Make its letters.",
  },
  "not-sent": {
    says: "Made and not sent",
    closes: "Send it and say so with whorl sent, or withdraw it.",
  },
} as const;

export type WaitingKind = keyof typeof WAITING;
export const WAITING_KINDS = Object.keys(WAITING) as WaitingKind[];

export interface WorkLine {
  readonly kind: WaitingKind;
  readonly urgency: Urgency | null;
  /** True where somebody must act; false where only time must pass, or nothing says by when. */
  readonly due: boolean;
  /** What waits, as an English sentence. */
  readonly what: string;
  /** What the sentence is about: a test, an addressee, weeks, or what somebody wrote; a sheet says it in its own language. */
  readonly detail: string;
  /** The must-not-miss line or the fact that it is about, which a sheet in another language names; empty for all else. */
  readonly of: string;
  /** Of a letter or a signing; 1 for all else. */
  readonly edition: number;
  /** Who must act, where that is said. */
  readonly who: string;
  readonly patient: { readonly id: string; readonly name: string };
  readonly visit: string;
  /** The visit file that closes it; empty where it is gone. */
  readonly path: string;
  /** ISO date from which it waits. */
  readonly since: string;
  /** The last day in time, where one is known. */
  readonly by: string | null;
}

/** The sentence of a line. */
export function whatOf(kind: WaitingKind, detail: string, edition: number): string {
  const later = edition > 1 ? ` (edition ${edition})` : "";
  switch (kind) {
    case "unreadable":
      return "The visit cannot be read as it stands; whorl check says why.";
    case "test-awaited":
      return `The result of ${detail} is awaited.`;
    case "follow-up-missed":
      return `A follow-up after ${detail === "1" ? "one week" : `${detail} weeks`} was planned, and no later visit is here.`;
    case "draft":
      return "The visit is a draft and was never signed.";
    case "changed":
      return "The visit no longer says what was signed.";
    case "not-made":
      return `The visit was signed${later}, and none of its letters is made.`;
    case "not-sent":
      return `The letter to ${detail}${later} was made and not sent.`;
    default:
      return detail;
  }
}

/** The most urgent first, a question not asked after what was seen; then what is due, then the rest; each the oldest first. */
export function inOrder(lines: readonly WorkLine[]): WorkLine[] {
  const rank = ({ urgency, kind, due }: WorkLine) =>
    urgency
      ? URGENCIES.indexOf(urgency) * 2 + (kind === "not-asked" ? 1 : 0)
      : URGENCIES.length * 2 + (due ? 0 : 1);
  const keys = lines.map((line) => ({
    line,
    rank: rank(line),
    rest: [line.since, line.patient.id, line.visit, line.kind, line.what].join("\u0000"),
  }));
  return keys
    .sort((a, b) => a.rank - b.rank || (a.rest < b.rest ? -1 : a.rest > b.rest ? 1 : 0))
    .map(({ line }) => line);
}

/** What is already known of a visit before it is written up: the start of a skeleton. Plain data. */
import type { FindingId } from "../base/ids.js";
import type {
  Amount,
  Impression,
  Patient,
  PersonName,
  Recipient,
  Region,
  Scope,
  Visit,
} from "../visit/visit.js";

/** An amount as a visit file writes it; `none` is looked for and not seen. */
export type AmountWord = Amount | "none" | "seen";

export interface DraftSite {
  /** Left out where it is still to be named. */
  readonly site?: Region;
  readonly at?: { readonly x: number; readonly y: number };
  /** Finding ids to ask for beside those of the suspected disorder. */
  readonly ask?: readonly FindingId[];
  /** Answers already given, by finding id. */
  readonly seen?: Readonly<Record<FindingId, AmountWord>>;
  /** What the visit before recorded, by finding id, in words. */
  readonly before?: Readonly<Record<FindingId, string>>;
  readonly patchBefore?: string;
}

export interface VisitDraft {
  /** ISO date of the visit. */
  readonly date: string;
  readonly id?: string;
  readonly seenBy?: string;
  readonly reason?: string;
  readonly patient?: Partial<Omit<Patient, "name">> & { readonly name?: Partial<PersonName> };
  readonly sendTo?: readonly Recipient[];
  readonly scope?: Scope;
  readonly sites: readonly DraftSite[];
  readonly impression?: readonly Impression[];
  readonly followUpWeeks?: number;
  /** The visit this one follows, for the remarks. */
  readonly follows?: { readonly id: string; readonly date: string };
  /** What the visit before recorded of the history, to be checked and taken over by hand. */
  readonly historyBefore?: Readonly<
    Partial<Record<"family" | "past" | "medicines" | "allergies", readonly string[]>>
  >;
}

/**
 * The start of a follow-up: who the patient is, who receives the letter, the dermoscope and the sites come over; what was
 * found is asked again and never taken over.
 */
export function followUpDraft(previous: Visit, date: string): VisitDraft {
  const { family, past, medicines, allergies } = previous.history;
  return {
    date,
    seenBy: previous.seenBy,
    patient: previous.patient,
    sendTo: previous.sendTo,
    scope: previous.scope,
    sites: previous.sites.map((site) => ({
      site: site.site,
      ...(site.at ? { at: site.at } : {}),
      ask: site.findings.map((f) => f.finding),
      before: Object.fromEntries(site.findings.map(({ finding, seen }) => [finding, wordsOf(seen)])),
      ...(site.patch ? { patchBefore: `${site.patch.lengthMm} x ${site.patch.widthMm} mm` } : {}),
    })),
    follows: { id: previous.id, date: previous.date },
    historyBefore: { family, past, medicines: medicines.map((m) => m.name), allergies },
  };
}

function wordsOf(seen: Visit["sites"][number]["findings"][number]["seen"]): string {
  if (seen.state === "absent") return "none";
  if (seen.count)
    return `${seen.count.count} in ${seen.count.fields} ${seen.count.fields === 1 ? "field" : "fields"}`;
  return seen.amount ?? "seen";
}

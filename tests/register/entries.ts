/** Entries for registers in tests. */
import type { CallerEntry } from "../../src/register/line.js";

const HASH = "ab".repeat(32);

export function madeEntry(visit: string, over: Partial<Extract<CallerEntry, { kind: "made" }>> = {}) {
  return {
    kind: "made",
    at: "2026-03-12T14:05:00Z",
    by: "",
    visit,
    patient: "TS-40417",
    edition: 1,
    document: "referral-letter",
    addressee: { name: "Dr Ilse Brandt", role: "general practitioner", copy: false },
    sha256: HASH,
    seal: "1-x",
    dated: "2026-03-12",
    name: `${visit}-referral-letter.pdf`,
    pages: 2,
    how: "letter",
    ...over,
  } as const satisfies CallerEntry;
}

export function signedEntry(visit: string, over: Partial<Extract<CallerEntry, { kind: "signed" }>> = {}) {
  return {
    kind: "signed",
    at: "2026-03-12T14:00:00Z",
    by: "anneli-thorsby",
    visit,
    patient: "TS-40417",
    edition: 1,
    date: "2026-03-12",
    signed_at: "2026-03-12T14:00+00:00",
    seal: "1-x",
    text: HASH,
    reason: "",
    ...over,
  } as const satisfies CallerEntry;
}

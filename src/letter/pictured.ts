/** Findings a handout shows, each with a drawing: those there was most of, and new hair wherever it was seen. */
import type { FindingId } from "../base/ids.js";
import { AMOUNTS, type FindingSeen } from "../visit/visit.js";
import type { FactsInput } from "./facts-input.js";
import { namedImpressions } from "./named.js";
import { type Words, wordIn } from "./phrases.js";
import type { LetterFacts } from "./variables.js";

/** A reader takes in no more than this many drawings. Common practice, no source. */
const MOST = 4;
/** A finding that speaks this strongly for a name kept back (natural-log units) would tell it. */
const TELLING = 0.9;
/** What a patient hopes to hear of. */
const NEW_HAIR = "upright-regrowing-hairs";

export function picturedFindings(input: FactsInput): LetterFacts["pictured"] {
  const { visit, knowledge, words } = input;
  const most = new Map<FindingId, FindingSeen>();
  for (const seen of visit.sites.flatMap((s) => s.findings)) {
    const before = most.get(seen.finding);
    if (seen.seen.state === "present" && (!before || rank(seen) > rank(before))) most.set(seen.finding, seen);
  }
  const { weight, telling } = bearing(input);
  const shown = [...most.values()]
    .filter((f) => !telling.has(f.finding))
    .sort(
      (a, b) =>
        rank(b) - rank(a) ||
        (weight.get(b.finding) ?? 0) - (weight.get(a.finding) ?? 0) ||
        (a.finding < b.finding ? -1 : 1),
    );
  const limit = namedImpressions(visit).length > 1 ? MOST - 1 : MOST;
  const newHair = shown.find((f) => f.finding === NEW_HAIR);
  const first = shown.slice(0, limit);
  const chosen = !newHair || first.includes(newHair) ? first : [...first.slice(0, limit - 1), newHair];
  return chosen.flatMap((found) => {
    const id = found.finding;
    const finding = knowledge.findings[id];
    return finding
      ? [
          {
            id,
            drawing: `pictogram:${id}`,
            name: finding.plain.name,
            amount: plainAmount(words, found, finding.plain.mass),
            means: finding.plain.means,
          },
        ]
      : [];
  });
}

/**
 * How much of a finding there was, in a patient's words; empty where no amount was recorded, and where the finding is one thing
 * that can be anywhere but not many.
 */
export function plainAmount(words: Words, found: FindingSeen | undefined, isMass = false): string {
  const seen = found?.seen;
  if (isMass && seen?.state === "present" && seen.amount !== "throughout") return "";
  return (seen?.state === "present" && seen.amount && wordIn(words.amounts_plain, seen.amount)) || "";
}

function rank({ seen }: FindingSeen): number {
  // Seen without an amount stands for a few, as elsewhere.
  return seen.state === "present" ? (seen.amount === null ? 1 : AMOUNTS.indexOf(seen.amount)) : -1;
}

/** Findings that would tell the patient a name which is kept back for a talk. */
export const tellingFindings = (input: FactsInput): ReadonlySet<FindingId> => bearing(input).telling;

/** How much a finding speaks for a recorded name, and which would tell a name that is kept back. */
function bearing(input: FactsInput): { weight: Map<FindingId, number>; telling: Set<FindingId> } {
  const weight = new Map<FindingId, number>();
  const telling = new Set<FindingId>();
  for (const i of input.visit.impression) {
    const view = input.interpretation.disorders.find((d) => d.id === i.disorder);
    for (const r of view?.for ?? []) {
      if (r.kind !== "finding" || r.state !== "present") continue;
      weight.set(r.id, Math.max(weight.get(r.id) ?? 0, r.weight));
      if (i.inHandout === false && r.weight > TELLING) telling.add(r.id);
    }
  }
  return { weight, telling };
}

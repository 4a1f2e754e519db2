/**
 * Recorded signs that the leading disorder does not explain: named, and where strong, a reason to hold back. So is a pattern of its own
 * that speaks clearly against it: what is missing in the catalogue often looks like its neighbour in the wrong place.
 */
import type { Knowledge } from "../knowledge/schema.js";
import { findingsNamed } from "./conditions.js";
import type { Weighed, WeighedEntry } from "./weigh.js";

export interface Unexplained {
  /** Finding ids, the strongest first. */
  readonly ids: readonly string[];
  /** One of them or a pattern speaks clearly against it, or there are several, and no second disorder explains them. */
  readonly holdsBack: boolean;
}

const NOTHING: Unexplained = { ids: [], holdsBack: false };

/** `beside` holds what a second disorder explains; that no longer counts against the first. */
export function unexplainedBy(
  weighed: Weighed,
  leading: number,
  beside: readonly string[],
  knowledge: Knowledge,
): Unexplained {
  const id = weighed.cells.disorders[leading];
  if (id === undefined) return NOTHING;
  const { seldom, strong, several, pattern } = knowledge.weighing.unexplained;
  const patterns = weighed.lines.flatMap((l) => {
    const found =
      l.disorder === id ? knowledge.disorders[id]?.patterns.find((p) => p.id === l.id) : undefined;
    return found ? [{ weight: l.weight, findings: findingsNamed(found.when) }] : [];
  });
  const named = new Set(patterns.flatMap((p) => (p.weight > 0 ? p.findings : [])));
  const explained = (findings: readonly string[]) =>
    findings.length > 0 && findings.every((f) => beside.includes(f));
  const contradicted = patterns.some((p) => p.weight <= -pattern && !explained(p.findings));
  const left = weighed.entries
    .filter(
      (e) =>
        e.entry.state === "present" &&
        !(e.entry.kind === "fact" && (!e.entry.examined || e.entry.words)) &&
        !named.has(e.entry.id) &&
        (e.row.frequencies[leading] ?? 0) < seldom &&
        e.row.healthy.mean < seldom,
    )
    .map((e) => ({ id: e.entry.id, against: against(e, leading) }))
    .sort((x, y) => y.against - x.against || (x.id < y.id ? -1 : 1));
  const open = left.filter((l) => !beside.includes(l.id));
  return {
    ids: [...new Set(left.map((l) => l.id))],
    holdsBack: contradicted || open.length >= several || open.some((l) => l.against >= strong),
  };
}

/** How much better the disorder that explains the finding best does so, natural-log units. */
function against(e: WeighedEntry, leading: number): number {
  return e.factor * (Math.max(...e.row.weights) - (e.row.weights[leading] ?? 0));
}

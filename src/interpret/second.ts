/** Does a second disorder beside the leading one explain the picture clearly better? */
import type { Knowledge } from "../knowledge/schema.js";
import type { Region } from "../visit/visit.js";
import { findingsNamed } from "./conditions.js";
import type { RuleLine } from "./rules.js";
import type { Weighed, WeighedEntry } from "./weigh.js";

export interface SecondDisorder {
  readonly id: string;
  /** How much likelier the picture is with both than with the first alone, after the cost of supposing two; natural-log units. */
  readonly gain: number;
  /** How clearly one site speaks for the first and another for this one, natural-log units; 0 when no two sites do. */
  readonly apart: number;
  /** The site that speaks most clearly for the first, and the one for this one. */
  readonly places?: { readonly first: Region; readonly second: Region };
  /** Finding, pattern, rule and test ids that it explains and the first does not. */
  readonly explains: readonly string[];
}

/** Lines of the second disorder's own that are worth naming. */
const OWN_LINE = 0.6;

/** What one site found, by disorder, without history; empty where nothing is present. */
export interface SiteFound {
  readonly site: Region;
  readonly found: readonly number[];
}

/**
 * The best second disorder, or undefined when none is clearly worth its cost. A finding is present when either disorder shows it
 * (noisy or: 1 - (1 - p1)(1 - p2)) and absent when neither does. Where several sites show something, the ground for a second disorder
 * is that one of them speaks for it and another for the first; in one place, a pair known to stand together needs less than another.
 */
export function secondDisorder(
  weighed: Weighed,
  leading: number,
  sites: readonly SiteFound[],
  knowledge: Knowledge,
): SecondDisorder | undefined {
  const { disorders } = weighed.cells;
  const { bands, pairs } = knowledge.weighing;
  const first = disorders[leading] ?? "";
  const showing = sites.filter((s) => s.found.length > 0);
  let best: SecondDisorder | undefined;
  disorders.forEach((id, d) => {
    if (d === leading) return;
    const gains = weighed.entries.map((e) => ({ e, gain: pairGain(e, leading, d) }));
    const left = gains
      .filter((g) => g.e.entry.state === "present" && g.gain >= bands.explains)
      .sort((x, y) => y.gain - x.gain)
      .map((g) => g.e.entry.id);
    const lines = weighed.lines.filter(
      (l) => l.disorder === id && !shared(l, first, weighed) && !alreadyExplained(l, left, knowledge),
    );
    const cost = pairCost(first, id, knowledge);
    const gain =
      (weighed.base[d] ?? 0) +
      lines.reduce((sum, l) => sum + l.weight, 0) +
      gains.reduce((sum, g) => sum + g.gain, 0) -
      cost;
    const { apart, places } = apartness(showing, leading, d);
    const inOnePlace = cost < pairs.cost ? pairs.in_one_place.known : pairs.in_one_place.other;
    const worth = showing.length > 1 ? apart >= pairs.apart && gain >= 0 : gain >= inOnePlace;
    if (!worth || (best && gain + apart <= best.gain + best.apart)) return;
    const own = lines.filter((l) => l.weight >= OWN_LINE && l.kind !== "context").map((l) => l.id);
    const explains = [...new Set([...left, ...own])];
    const usual = gains.some(
      (g) => left.includes(g.e.entry.id) && (g.e.row.frequencies[d] ?? 0) >= bands.grounds.typical,
    );
    if (usual || own.length > 0) best = { id, gain, apart, ...(places ? { places } : {}), explains };
  });
  return best;
}

/** How far one site speaks for the first and another for the second: by the clearest site for either, the lesser counts. */
function apartness(
  sites: readonly SiteFound[],
  first: number,
  second: number,
): Pick<SecondDisorder, "apart" | "places"> {
  const ahead = sites.map((s) => (s.found[first] ?? 0) - (s.found[second] ?? 0));
  const most = Math.max(...ahead);
  const least = Math.min(...ahead);
  const apart = Math.max(0, Math.min(most, -least));
  const [one, two] = [sites[ahead.indexOf(most)], sites[ahead.indexOf(least)]];
  return apart > 0 && one && two ? { apart, places: { first: one.site, second: two.site } } : { apart: 0 };
}

/** History that speaks for both is explained by the first. */
function shared(line: RuleLine, first: string, weighed: Weighed): boolean {
  return (
    line.weight > 0 &&
    weighed.lines.some(
      (l) => l.disorder === first && l.id === line.id && l.kind === line.kind && l.weight > 0,
    )
  );
}

/** A pattern of findings that the first disorder explains as well says nothing for a second one. */
function alreadyExplained(line: RuleLine, left: readonly string[], knowledge: Knowledge): boolean {
  if (line.weight <= 0) return false;
  const pattern = knowledge.disorders[line.disorder]?.patterns.find((p) => p.id === line.id);
  const named = pattern ? findingsNamed(pattern.when) : [];
  return named.length > 0 && !named.some((id) => left.includes(id));
}

/** What supposing the second disorder too does for one finding. */
function pairGain(e: WeighedEntry, first: number, second: number): number {
  const p1 = e.row.frequencies[first] ?? e.row.average;
  const p2 = e.row.frequencies[second] ?? e.row.average;
  return e.factor * (e.entry.state === "present" ? Math.log(1 + (p2 * (1 - p1)) / p1) : Math.log(1 - p2));
}

function pairCost(first: string, second: string, knowledge: Knowledge): number {
  const { pairs } = knowledge.weighing;
  const known = pairs.known.find((k) => k.of.includes(first) && k.of.includes(second));
  return known?.cost ?? pairs.cost;
}

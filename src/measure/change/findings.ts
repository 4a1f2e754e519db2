/** Findings at two visits, site by site: what appeared, went, grew or shrank. Not assessed is never taken as absent. */
import type { FindingId } from "../../base/ids.js";
import { AMOUNTS, type Seen, type Site, type Visit } from "../../visit/visit.js";
import { sameFieldOfView } from "../fields.js";
import { type PublishedSpread, publishedTimes } from "../statistics/spread.js";
import { rateRatio } from "../statistics/two-counts.js";
import type { FindingChange, FindingChangeKind, SeenState } from "./types.js";

/** Changes of every finding recorded at either visit, at every region looked at in both. */
export function findingChanges(before: Visit, after: Visit, spread: PublishedSpread): FindingChange[] {
  const earlier = byPlace(before);
  // Counts through another field of view are not compared, nor the amounts they stand for; what was judged by eye is.
  const counting = sameFieldOfView(before, after) ? spread : undefined;
  return [...byPlace(after)].flatMap(([key, { site, nth }]) => {
    const then = earlier.get(key);
    return then ? siteChanges(then.site, site, nth, counting) : [];
  });
}

function byPlace(visit: Visit): ReadonlyMap<string, { readonly site: Site; readonly nth: number }> {
  const counts = new Map<string, number>();
  return new Map(
    visit.sites.map((site) => {
      const nth = counts.get(site.site) ?? 0;
      counts.set(site.site, nth + 1);
      return [`${site.site}#${nth}`, { site, nth }];
    }),
  );
}

function siteChanges(
  before: Site,
  after: Site,
  nth: number,
  spread: PublishedSpread | undefined,
): FindingChange[] {
  const ids = new Set([...before.findings, ...after.findings].map((f) => f.finding));
  const seenAt = (site: Site, id: FindingId) => site.findings.find((f) => f.finding === id)?.seen;
  return [...ids].sort().map((finding) => {
    const [a, b] = [seenAt(before, finding), seenAt(after, finding)];
    return { finding, site: after.site, nth, before: state(a), after: state(b), ...kindOf(a, b, spread) };
  });
}

function state(seen: Seen | undefined): SeenState {
  if (!seen) return { state: "not assessed" };
  if (seen.state === "absent") return { state: "absent" };
  return { state: "present", amount: seen.amount, ...seen.count };
}

function kindOf(
  a: Seen | undefined,
  b: Seen | undefined,
  spread: PublishedSpread | undefined,
): { readonly kind: FindingChangeKind; readonly p?: number; readonly note?: string } {
  if (!a) return { kind: b?.state === "present" ? "first looked for, seen" : "first looked for, not seen" };
  if (!b) return { kind: "not looked for again" };
  if (a.state === "absent") return { kind: b.state === "present" ? "appeared" : "still absent" };
  if (b.state === "absent") return { kind: "went" };
  if (!spread && (a.count ?? b.count))
    return { kind: "same", note: "seen at both visits; counted through another field of view" };
  if (spread && a.count && b.count) {
    const perField = (a.count.count + b.count.count) / (a.count.fields + b.count.fields);
    const times = publishedTimes(perField, spread);
    const r = rateRatio(b.count.count, b.count.fields, a.count.count, a.count.fields, times);
    if (!r) return { kind: "same" };
    if (r.p >= 0.05) return { kind: "same", p: r.p, note: "the counts differ within counting error" };
    return { kind: r.low > 1 ? "grew" : "shrank", p: r.p };
  }
  if (a.amount === null || b.amount === null)
    return { kind: "same", note: "seen at both visits; how much was not recorded" };
  const by = AMOUNTS.indexOf(b.amount) - AMOUNTS.indexOf(a.amount);
  return { kind: by > 0 ? "grew" : by < 0 ? "shrank" : "same" };
}

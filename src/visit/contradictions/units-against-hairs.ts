/** Follicular units cannot hold more hairs than were counted in the same field. */
import { type CheckContext, entries } from "../check-context.js";

/** A field is seldom counted to the last hair: this many hairs, or this share, may be a miscount. */
const HAIRS = 3;
const SHARE = 0.1;

export function unitsAgainstHairs({ file, report }: CheckContext): void {
  for (const [i, site] of entries(file.sites)) {
    for (const [j, { hairs, units }] of entries(site.fields)) {
      if (hairs === undefined || !units) continue;
      const path = ["sites", i, "fields", j];
      const parts = Object.entries(units).filter(([, n]) => n !== undefined && n > 0);
      const total = parts.reduce((sum, [size, n]) => sum + Number(size) * (n ?? 0), 0);
      if (total <= hairs) continue;
      const sum = parts.map(([size, n]) => `${n} x ${size}`).join(" + ");
      report("units-more-than-hairs", [...path, "units"], {
        message: `the units hold ${total} hairs (${sum}), and ${hairs} were counted`,
        expected: `units that make up at most ${hairs} hairs`,
        severity: total - hairs > Math.max(HAIRS, SHARE * hairs) ? "error" : "warning",
        related: [{ message: "hairs counted here", path: [...path, "hairs"] }],
      });
    }
  }
}

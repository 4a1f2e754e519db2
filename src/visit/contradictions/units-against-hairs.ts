/** Follicular units times their hairs should make up the hairs counted in the same field. */
import { entries, type Look } from "../look.js";

export function unitsAgainstHairs({ file, report }: Look): void {
  for (const [i, site] of entries(file.sites)) {
    for (const [j, { hairs, units }] of entries(site.fields)) {
      if (hairs === undefined || !units) continue;
      const path = ["sites", i, "fields", j];
      const parts = Object.entries(units).filter(([, n]) => n !== undefined && n > 0);
      const total = parts.reduce((sum, [size, n]) => sum + Number(size) * (n ?? 0), 0);
      if (total === hairs || parts.length === 0) continue;
      const sum = parts.map(([size, n]) => `${n} x ${size}`).join(" + ");
      // Hairs may stand outside any unit that was counted; a unit cannot hold hairs that are not there.
      report(total > hairs ? "units-more-than-hairs" : "units-fewer-than-hairs", [...path, "units"], {
        message: `the units hold ${total} hairs (${sum}), and ${hairs} were counted`,
        expected: `units that make up ${hairs} hairs`,
        related: [{ message: "hairs counted here", path: [...path, "hairs"] }],
      });
    }
  }
}

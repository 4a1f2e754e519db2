/** A visit without sites, or a site at which nothing was recorded. */
import { type CheckContext, entries } from "../check-context.js";

export function siteEmpty({ file, report }: CheckContext): void {
  const sites = entries(file.sites);
  if (sites.length === 0) {
    report("nothing-recorded", [], {
      message: "no site is recorded, so the letter has no findings",
      absent: "sites",
    });
  }
  for (const [i, site] of sites) {
    const lists = [site.findings, site.none_of, site.fields, site.diameters_um, site.photos];
    if (site.patch || site.notes || lists.some((list) => (list ?? []).length > 0)) continue;
    report("site-empty", ["sites", i], {
      absent: "findings",
      message: `nothing is recorded at ${site.site ?? `site ${i + 1}`}`,
    });
  }
}

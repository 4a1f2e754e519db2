/** A region named twice; two patches in one region are told apart by their place. */
import { type CheckContext, entries } from "../check-context.js";
import type { SiteEntry } from "../schema.js";

export function siteTwice({ file, report }: CheckContext): void {
  const first = new Map<string, [number, SiteEntry]>();
  for (const [i, site] of entries(file.sites)) {
    if (site.site === undefined) continue;
    const earlier = first.get(site.site);
    if (!earlier) first.set(site.site, [i, site]);
    else if (!apart(earlier[1], site)) {
      report("site-twice", ["sites", i, "site"], {
        message: `${site.site} is named twice`,
        expected:
          "one entry for each region, or a different place (at) for each of two patches in one region",
        related: [{ message: "first named here", path: ["sites", earlier[0], "site"] }],
      });
    }
  }
}

function apart(a: SiteEntry, b: SiteEntry): boolean {
  if (!a.at || !b.at) return false;
  return a.at.x !== b.at.x || a.at.y !== b.at.y;
}

/** Counts of one field that cannot all be right: a part larger than the whole. */
import { type CheckContext, entries } from "../check-context.js";

export function fieldCounts({ file, report }: CheckContext): void {
  for (const [i, site] of entries(file.sites)) {
    for (const [j, { hairs, thin, vellus }] of entries(site.fields)) {
      const path = ["sites", i, "fields", j];
      const whole = [{ message: "all hairs of the field", path: [...path, "hairs"] }];
      if (hairs !== undefined && thin !== undefined && thin > hairs) {
        report("thin-more-than-hairs", [...path, "thin"], {
          message: `${thin} thin hairs among ${hairs} hairs`,
          expected: `at most ${hairs}`,
          related: whole,
        });
      }
      if (hairs !== undefined && vellus !== undefined && vellus > hairs) {
        report("vellus-more-than-hairs", [...path, "vellus"], {
          message: `${vellus} vellus hairs among ${hairs} hairs`,
          expected: `at most ${hairs}`,
          related: whole,
        });
      } else if (thin !== undefined && vellus !== undefined && vellus > thin) {
        report("vellus-more-than-thin", [...path, "vellus"], {
          message: `${vellus} vellus hairs, though only ${thin} hairs are thin`,
          expected: "vellus hairs counted among the thin ones",
        });
      }
    }
  }
}

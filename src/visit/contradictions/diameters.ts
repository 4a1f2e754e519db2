/** Shaft diameters written in millimetres, or beyond what a hair can be. */
import { entries, type Look } from "../look.js";

/** Micrometres; scalp hairs run from about 15 to 120 (common practice), the limits leave room. */
const LOW = 5;
const HIGH = 200;

export function diameters({ file, report }: Look): void {
  for (const [i, site] of entries(file.sites)) {
    const path = ["sites", i, "diameters_um"];
    const all = entries(site.diameters_um as (number | null)[] | undefined).filter(
      ([, um]) => um !== undefined,
    );
    const small = all.filter(([, um]) => um < 1);
    if (small.length > 0) {
      const [first, um] = small[0] ?? [0, 0];
      report("diameters-in-mm", [...path, first], {
        message: `${um} micrometres is no hair; it looks like millimetres`,
        expected: "micrometres",
        suggestion: String(Number((um * 1000).toPrecision(3))),
      });
    }
    for (const [j, um] of all.filter(([, um]) => (um >= 1 && um < LOW) || um > HIGH)) {
      report("diameter-implausible", [...path, j], {
        message: `a hair ${um} micrometres across`,
        expected: `${LOW} to ${HIGH} micrometres`,
      });
    }
  }
}

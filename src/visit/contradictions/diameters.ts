/** Shaft diameters written in millimetres: no shaft is thinner than a micrometre. */
import { type CheckContext, entries } from "../check-context.js";

export function diameters({ file, report }: CheckContext): void {
  for (const [i, site] of entries(file.sites)) {
    const all: [number, number][] = (site.diameters_um ?? []).flatMap((um, j) => (um ? [[j, um]] : []));
    const small = all.find(([, um]) => um < 1);
    if (!small) continue;
    const [j, um] = small;
    report("diameters-in-mm", ["sites", i, "diameters_um", j], {
      message: `${um} micrometres is no hair; it looks like millimetres`,
      expected: "micrometres",
      suggestion: String(Number((um * 1000).toPrecision(3))),
    });
  }
}

/** Hairs counted in a field whose size makes the density implausible: a slip in one of the two. */
import { entries, type Look } from "../look.js";

/** Hairs per square centimetre; wide limits of our own (common practice). */
const LOW = 5;
const HIGH = 500;

export function density({ file, report }: Look): void {
  const diameter = file.scope?.field_diameter_mm;
  if (diameter === undefined) return;
  const areaCm2 = Math.PI * (diameter / 20) ** 2;
  for (const [i, site] of entries(file.sites)) {
    for (const [j, { hairs }] of entries(site.fields)) {
      if (hairs === undefined || hairs === 0) continue;
      const perCm2 = hairs / areaCm2;
      if (perCm2 >= LOW && perCm2 <= HIGH) continue;
      report("density-implausible", ["sites", i, "fields", j, "hairs"], {
        message: `${hairs} hairs in a field of ${diameter} mm make ${perCm2.toPrecision(2)} hairs per square centimetre`,
        expected: `${LOW} to ${HIGH} per square centimetre`,
        related: [{ message: "diameter of the field", path: ["scope", "field_diameter_mm"] }],
      });
    }
  }
}

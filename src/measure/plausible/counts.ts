/** Slips in counted fields and measured shafts. Limits are common practice unless a source is named. */
import type { CountedField, FindingSeen, Site, Visit } from "../../visit/visit.js";
import { sumFields, sumUnits } from "../fields.js";
import { shareDifference } from "../statistics/proportions.js";
import { rateRatio } from "../statistics/two-counts.js";
import type { Measures } from "../types.js";
import { type Check, measuredAt, type Slip } from "./slip.js";

/** Hairs per cm² well above any healthy adult: published ranges end at 290 (loussouarn2001) and 300 (barman1965). */
const DENSEST = 450;
const SPARSEST = 10;
const MANY_HAIRS = 20;
const MOST_PER_UNIT = 4;
const THICKEST_UM = 150;
const SAME_SHAFTS = 10;
const SHARES_APART = 0.2;
/** Thin hairs of a healthy woman's frontal or occipital scalp stay under a tenth (rakowska2009-healthy). */
const USUAL_SHARE = 0.1;

export const countChecks: readonly Check[] = [
  eachField,
  densities,
  shafts,
  repeatedFields,
  thinShares,
  findingsAgainstFields,
];

function eachField(visit: Visit): readonly Slip[] {
  return visit.sites.flatMap(({ site, fields }, i) =>
    fields.flatMap((field, j): Slip[] => {
      const units = sumUnits([field]);
      if (!units || field.hairs === undefined) return [];
      const inUnits = [...units].reduce((sum, [hairs, count]) => sum + hairs * count, 0);
      if (Math.abs(inUnits - field.hairs) <= Math.max(3, 0.1 * field.hairs)) return [];
      const message = `field ${j + 1} of the ${site}: ${field.hairs} hairs, but its units hold ${inUnits}`;
      return [
        { id: "units-against-hairs", severity: "warning", path: `sites[${i}].fields[${j}].units`, message },
      ];
    }),
  );
}

function densities(visit: Visit, measures: Measures): readonly Slip[] {
  return visit.sites.flatMap(({ site, fields }, i): Slip[] => {
    const slips: Slip[] = [];
    const density = measuredAt(measures, "hair-density", i);
    const found = `${density?.value.toFixed(0)} hairs per cm² at the ${site}`;
    const path = "scope.field_diameter_mm";
    if (density && (density.low ?? 0) > DENSEST)
      slips.push({ id: "density-too-high", severity: "warning", path, message: found });
    const perField = (density?.n ?? 0) / Math.max(1, fields.length);
    if (density && perField >= MANY_HAIRS && density.value < SPARSEST)
      slips.push({ id: "density-too-low", severity: "warning", path, message: found });
    const perUnit = measuredAt(measures, "hairs-per-unit", i);
    if (perUnit && perUnit.value > MOST_PER_UNIT)
      slips.push({
        id: "hairs-per-unit-high",
        severity: "warning",
        path: `sites[${i}].fields`,
        message: `${perUnit.value.toFixed(1)} hairs per follicular unit at the ${site}`,
      });
    return slips;
  });
}

function shafts(visit: Visit): readonly Slip[] {
  return visit.sites.flatMap(({ site, diametersUm: all }, i): Slip[] => {
    const path = `sites[${i}].diameters_um`;
    const thickest = Math.max(...all);
    if (all.length === 0) return [];
    if (thickest < 1)
      return [
        {
          id: "diameter-in-mm",
          severity: "warning",
          path,
          message: `shafts of at most ${thickest} µm at the ${site}`,
        },
      ];
    if (thickest > THICKEST_UM)
      return [
        {
          id: "diameter-too-thick",
          severity: "warning",
          path,
          message: `a shaft of ${thickest} µm at the ${site}`,
        },
      ];
    if (all.length >= SAME_SHAFTS && all.every((um) => um === thickest))
      return [
        {
          id: "diameters-all-equal",
          severity: "warning",
          path,
          message: `all ${all.length} shafts at the ${site} are ${thickest} µm`,
        },
      ];
    return [];
  });
}

function repeatedFields(visit: Visit): readonly Slip[] {
  return visit.sites.flatMap(({ site, fields }, i) =>
    fields.flatMap((field, j): Slip[] => {
      const first = fields.findIndex((other) => fingerprint(other) === fingerprint(field));
      if (first >= j || countsIn(field) < 3) return [];
      const message = `fields ${first + 1} and ${j + 1} of the ${site} have the same counts`;
      return [{ id: "fields-identical", severity: "note", path: `sites[${i}].fields[${j}]`, message }];
    }),
  );
}

const countsIn = ({ units, ...rest }: CountedField): number =>
  Object.values(rest).filter((n) => n !== undefined).length + Object.keys(units ?? {}).length;

const fingerprint = (field: CountedField): string =>
  JSON.stringify([
    field.hairs,
    field.thin,
    field.vellus,
    field.yellowDots,
    field.discolouredOpenings,
    Object.entries(field.units ?? {}).sort(),
  ]);

function thinShares(visit: Visit): readonly Slip[] {
  return visit.sites.flatMap(({ site, fields, diametersUm }, i): Slip[] => {
    const counted = sumFields(fields, ["hairs", "thin"]);
    const { hairs = 0, thin = 0 } = counted?.sums ?? {};
    if (hairs === 0 || thin > hairs || diametersUm.length === 0) return [];
    const measured = diametersUm.filter((um) => um < 30).length;
    const d = shareDifference(thin, hairs, measured, diametersUm.length);
    if (Math.abs(d.value) <= SHARES_APART || (d.low <= 0 && d.high >= 0)) return [];
    const message = `thin hairs at the ${site}: ${thin} of ${hairs} counted, ${measured} of ${diametersUm.length} measured`;
    return [{ id: "thin-shares-disagree", severity: "warning", path: `sites[${i}].fields`, message }];
  });
}

/** Findings that a count in the fields settles. */
const COUNTED_AS = { "yellow-dots": "yellowDots", "vellus-hairs": "vellus", "thin-hairs": "thin" } as const;

function findingsAgainstFields(visit: Visit): readonly Slip[] {
  return visit.sites.flatMap((site, i) =>
    site.findings.flatMap((finding) => findingAgainstFields(site, i, finding)),
  );
}

function findingAgainstFields(site: Site, i: number, { finding, seen }: FindingSeen): readonly Slip[] {
  const key = COUNTED_AS[finding as keyof typeof COUNTED_AS];
  const counted = key && sumFields(site.fields, [key]);
  if (!counted) return [];
  const count = counted.sums[key];
  const words = finding.replaceAll("-", " ");
  const path = `sites[${i}].findings.${words}`;
  const found = `${count} in ${counted.fields} counted field${counted.fields === 1 ? "" : "s"}`;
  // A few thin or vellus hairs are on every scalp; "none" then means no more than usual.
  const usual =
    key === "yellowDots"
      ? 0
      : USUAL_SHARE * (sumFields(site.fields, ["hairs", key])?.sums.hairs ?? count / USUAL_SHARE);
  if (seen.state === "absent")
    return count <= usual
      ? []
      : [
          {
            id: "absent-but-counted",
            severity: "warning",
            path,
            message: `${words} at the ${site.site}: not seen, yet ${found}`,
          },
        ];
  if (count === 0 && (seen.amount === "many" || seen.amount === "throughout"))
    return [
      {
        id: "seen-but-none-counted",
        severity: "warning",
        path,
        message: `${words} at the ${site.site}: ${seen.amount}, yet ${found}`,
      },
    ];
  if (!seen.count) return [];
  const r = rateRatio(seen.count.count, seen.count.fields, count, counted.fields);
  if (!r || r.p >= 0.01) return [];
  const message = `${words} at the ${site.site}: ${seen.count.count} in ${seen.count.fields}, and ${found}`;
  return [{ id: "counts-disagree", severity: "warning", path, message }];
}

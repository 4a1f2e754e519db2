/** Sums over the counted fields of a site, over just those fields where everything needed was counted. */
import type { CountedField, Region, Site, Visit } from "../visit/visit.js";
import { fieldAreaCm2 } from "./statistics/counting.js";
import type { PartOf } from "./statistics/proportions.js";

export type FieldCount = "hairs" | "thin" | "vellus" | "yellowDots" | "discolouredOpenings";

export interface FieldSums {
  readonly fields: number;
  readonly sums: Readonly<Record<FieldCount, number>>;
  /** The count of each field that was summed. */
  readonly each: Readonly<Record<FieldCount, readonly number[]>>;
}

/** Sums of the named counts over the fields that hold all of them; undefined when no field does. */
export function sumFields(
  fields: readonly CountedField[],
  keys: readonly FieldCount[],
): FieldSums | undefined {
  const full = fields.filter((f) => keys.every((k) => f[k] !== undefined));
  if (full.length === 0) return undefined;
  const of = (key: FieldCount) => (keys.includes(key) ? full.map((field) => field[key] ?? 0) : []);
  const each = {
    hairs: of("hairs"),
    thin: of("thin"),
    vellus: of("vellus"),
    yellowDots: of("yellowDots"),
    discolouredOpenings: of("discolouredOpenings"),
  };
  const sum = (key: FieldCount) => each[key].reduce((a, b) => a + b, 0);
  const sums = {
    hairs: sum("hairs"),
    thin: sum("thin"),
    vellus: sum("vellus"),
    yellowDots: sum("yellowDots"),
    discolouredOpenings: sum("discolouredOpenings"),
  };
  return { fields: full.length, sums, each };
}

/** Parts and wholes, field by field. */
export const partsOf = (parts: readonly number[], wholes: readonly number[]): readonly PartOf[] =>
  parts.map((part, i) => ({ part, of: wholes[i] ?? 0 }));

export interface UnitsOfField {
  readonly units: number;
  readonly single: number;
  /** Hairs that stand in them. */
  readonly hairs: number;
}

/** Follicular units of one field, those of one hair among them, and their hairs. */
export function unitsOfField({ units = {} }: CountedField): UnitsOfField {
  const counted = [...(sumUnits([{ units }]) ?? [])];
  return {
    units: counted.reduce((sum, [, n]) => sum + n, 0),
    single: counted.reduce((sum, [hairs, n]) => sum + (hairs === 1 ? n : 0), 0),
    hairs: counted.reduce((sum, [hairs, n]) => sum + hairs * n, 0),
  };
}

/** Units of one hair among those of a field. */
export function singleUnits(field: CountedField): PartOf {
  const { single, units } = unitsOfField(field);
  return { part: single, of: units };
}

/**
 * Area in cm² of the fields that hold all of the named counts: each its own where it was told, else the scope's whole field;
 * undefined where one has neither.
 */
export function countedAreaCm2(
  { scope }: Visit,
  fields: readonly CountedField[],
  keys: readonly FieldCount[],
): number | undefined {
  const whole = scope.fieldDiameterMm === undefined ? undefined : fieldAreaCm2(scope.fieldDiameterMm);
  let sum = 0;
  for (const field of fields.filter((f) => keys.every((k) => f[k] !== undefined))) {
    const area = field.areaMm2 === undefined ? whole : field.areaMm2 / 100;
    if (area === undefined) return undefined;
    sum += area;
  }
  return sum;
}

/** Follicular units by hairs in each, summed: `{ 1: 21, 2: 24 }`; undefined when none was counted. */
export function sumUnits(fields: readonly CountedField[]): ReadonlyMap<number, number> | undefined {
  const units = new Map<number, number>();
  for (const field of fields) {
    for (const [hairs, count] of Object.entries(field.units ?? {})) {
      if (!(Number(hairs) >= 1)) continue;
      units.set(Number(hairs), (units.get(Number(hairs)) ?? 0) + count);
    }
  }
  const total = [...units.values()].reduce((a, b) => a + b, 0);
  return total > 0 ? new Map([...units].sort(([a], [b]) => a - b)) : undefined;
}

export interface PlacedSite {
  readonly site: Region;
  readonly siteIndex: number;
  readonly record: Site;
}

/** Sites with their place in the list. */
export function placedSites(visit: Visit): readonly PlacedSite[] {
  return visit.sites.map((record, siteIndex) => ({ site: record.site, siteIndex, record }));
}

/** All fields and diameters recorded in one region, however many sites it was recorded as. */
export function pooledRegion(
  visit: Visit,
  region: Region,
): { readonly fields: readonly CountedField[]; readonly diametersUm: readonly number[] } {
  const sites = visit.sites.filter((s) => s.site === region);
  return { fields: sites.flatMap((s) => s.fields), diametersUm: sites.flatMap((s) => s.diametersUm) };
}

/** Whether what is counted on a field of one visit can be set beside that of the other. */
export function sameFieldOfView({ scope: a }: Visit, { scope: b }: Visit): boolean {
  return a.fieldDiameterMm === b.fieldDiameterMm && a.magnification === b.magnification;
}

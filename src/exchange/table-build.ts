/** The filled places of one visit -> the nested value of a visit file, with the column each place came from. */
import { writePath } from "../base/yaml-source.js";
import { type Json, type Place, placeAt } from "./schema-place.js";
import type { TableMapping } from "./table-mapping.js";
import { placeKey, ROW_SITE, type Step, stepKey } from "./table-place.js";

export interface Filled {
  readonly steps: readonly Step[];
  readonly kind: Place["kind"];
  readonly value: unknown;
  /** Undefined for a constant. */
  readonly column?: string;
  readonly row?: number;
}

export interface Built {
  readonly value: Readonly<Record<string, unknown>>;
  /** Path as problems write it -> where it came from. */
  readonly origins: ReadonlyMap<string, Filled>;
}

/** Puts the places together in the order of the visit file; `schema` is that of the visit file. */
export function buildVisit(filled: readonly Filled[], schema: Json): Built {
  const origins = new Map<string, Filled>();
  const value = mapOf(filled, 0, [], [], schema, origins);
  return { value, origins };
}

function mapOf(
  filled: readonly Filled[],
  depth: number,
  path: readonly (string | number)[],
  place: readonly (string | number)[],
  schema: Json,
  origins: Map<string, Filled>,
): Record<string, unknown> {
  const order = placeAt(schema, place)?.keys ?? [];
  const groups = groupBy(filled, (f) => stepKey(f.steps[depth] ?? ""));
  const keys = [...groups.keys()].sort((a, b) => rank(order, a) - rank(order, b));
  return Object.fromEntries(
    keys.map((key) => {
      const group = groups.get(key) ?? [];
      return [key, nodeOf(group, depth + 1, [...path, key], [...place, key], schema, origins)];
    }),
  );
}

const rank = (order: readonly string[], key: string) =>
  order.includes(key) ? order.indexOf(key) : order.length;

function nodeOf(
  group: readonly Filled[],
  depth: number,
  path: readonly (string | number)[],
  place: readonly (string | number)[],
  schema: Json,
  origins: Map<string, Filled>,
): unknown {
  const leaf = group.find((f) => f.steps.length === depth);
  if (leaf) {
    origins.set(writePath(path), leaf);
    return leaf.value;
  }
  if (typeof group[0]?.steps[depth] === "string") return mapOf(group, depth, path, place, schema, origins);
  const entries = groupBy(group, (f) => stepKey(f.steps[depth] ?? 0));
  return [...entries.values()].sort(byNumber(depth)).map((entry, i) => {
    const step = entry[0]?.steps[depth];
    const map = mapOf(entry, depth + 1, [...path, i], [...place, i], schema, origins);
    return typeof step === "object" ? { site: step.region, ...map } : map;
  });
}

/** The items by key, keys in the order first met. */
export function groupBy<T>(items: readonly T[], keyOf: (item: T) => string): Map<string, T[]> {
  const groups = new Map<string, T[]>();
  for (const item of items) groups.set(keyOf(item), [...(groups.get(keyOf(item)) ?? []), item]);
  return groups;
}

/** Numbered entries in their order; regions as they come. */
const byNumber = (depth: number) => (a: readonly Filled[], b: readonly Filled[]) => {
  const [x, y] = [a[0]?.steps[depth], b[0]?.steps[depth]];
  return typeof x === "number" && typeof y === "number" ? x - y : 0;
};

/**
 * The constants that apply: those of a map that some column can fill wait until one has, so that no recipient or test
 * arises from an empty row. A constant of the row's own site applies at every site of the visit.
 */
export function applyingConstants(
  constants: TableMapping["constants"],
  columns: readonly { readonly steps: readonly Step[] }[],
  filled: readonly Filled[],
): Filled[] {
  const regions = [
    ...new Set(filled.flatMap((f) => f.steps.flatMap((s) => (typeof s === "object" ? [s.region] : [])))),
  ];
  const canFill = mapsOf(columns.flatMap((c) => atRegions(c, regions)));
  const hasFilled = mapsOf(filled);
  return constants
    .flatMap((c) => atRegions(c, regions))
    .filter(({ steps }) => {
      const map = placeKey(steps.slice(0, -1));
      return hasFilled.has(map) || !canFill.has(map);
    });
}

function mapsOf(all: readonly { readonly steps: readonly Step[] }[]): Set<string> {
  return new Set(all.map(({ steps }) => placeKey(steps.slice(0, -1))));
}

/** One copy for each region where the place is that of the row's own site. */
function atRegions<T extends { readonly steps: readonly Step[] }>(item: T, regions: readonly string[]): T[] {
  if (!item.steps.includes(ROW_SITE)) return [item];
  return regions.map((region) => ({
    ...item,
    steps: item.steps.map((s) => (s === ROW_SITE ? { region } : s)),
  }));
}

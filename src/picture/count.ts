/** Marks -> what they count within the area and what they measure, each with its interval. */
import { areaPx2, counts, distance, fromEdge } from "./geometry.js";
import { type Estimate, mean, poisson, share, widened } from "./intervals.js";
import { type Area, HAIRS, type HairClass, type HairMark, type Marks, type Point } from "./marks.js";
import { type KnownScale, scaleOf } from "./scale.js";

/** How far a mark may stand from where the hair leaves the skin, in millimetres (common practice, no source). */
const OFF_MM = 0.05;
/** The same in pixels where there is no scale (common practice, no source). */
const OFF_PX = 4;

export interface Counted {
  readonly area: Area;
  readonly scale?: KnownScale;
  readonly areaMm2?: number;
  /** Hairs that count, by the edge rule; those of a unit count together, where the middle of the unit lies. */
  readonly hairs: number;
  /** So near to the edge that another hand might count them otherwise. */
  readonly onEdge: number;
  /** True where every hair that counts has a class. */
  readonly classed: boolean;
  readonly classes: Readonly<Record<HairClass, number>>;
  /** True where every hair that counts belongs to a unit. */
  readonly inUnits: boolean;
  /** Units by their number of hairs. */
  readonly units: Readonly<Record<string, number>>;
  /** Dots that count, by finding id. */
  readonly dots: Readonly<Record<string, number>>;
  /** Widths of the lines across shafts in micrometres, in their order, in or out of the area; none without a scale. */
  readonly widthsUm: readonly number[];
}

/** The area in which was counted: the whole picture where none was drawn. */
export function areaOf({ area, photo }: Pick<Marks, "area" | "photo">): Area {
  return area ?? { kind: "rectangle", from: [0, 0], to: [photo.widthPx, photo.heightPx] };
}

/** Hairs in groups that leave the skin together; one without a number stands alone. */
export function unitsOf(
  hairs: readonly HairMark[],
): { readonly hairs: readonly HairMark[]; readonly middle: Point }[] {
  const units = new Map<string, HairMark[]>();
  for (const [i, hair] of hairs.entries()) {
    const key = hair.unit === undefined ? `alone ${i}` : `unit ${hair.unit}`;
    units.set(key, [...(units.get(key) ?? []), hair]);
  }
  return [...units.values()].map((group) => ({
    hairs: group,
    middle: [
      group.reduce((sum, { at }) => sum + at[0], 0) / group.length,
      group.reduce((sum, { at }) => sum + at[1], 0) / group.length,
    ],
  }));
}

export function count(marks: Marks): Counted {
  const area = areaOf(marks);
  const scale = scaleOf(marks);
  const near = scale ? OFF_MM / scale.mmPerPx : OFF_PX;
  const units = unitsOf(marks.hairs);
  const within = units.filter(({ middle }) => counts(area, middle));
  const hairs = within.flatMap((unit) => unit.hairs);
  const onEdge = units.filter(({ middle }) => fromEdge(area, middle) < near).flatMap((unit) => unit.hairs);
  const dots: Record<string, number> = {};
  for (const { at, finding } of marks.dots) if (counts(area, at)) dots[finding] = (dots[finding] ?? 0) + 1;
  const bySize: Record<string, number> = {};
  for (const { hairs: group } of within) bySize[group.length] = (bySize[group.length] ?? 0) + 1;
  const ofClass = (name: HairClass) => hairs.filter((hair) => hair.class === name).length;
  return {
    area,
    ...(scale ? { scale, areaMm2: areaPx2(area) * scale.mmPerPx ** 2 } : {}),
    hairs: hairs.length,
    onEdge: onEdge.length,
    classed: hairs.every((hair) => hair.class !== undefined),
    classes: { terminal: ofClass("terminal"), thin: ofClass("thin"), vellus: ofClass("vellus") },
    inUnits: hairs.every((hair) => hair.unit !== undefined),
    units: bySize,
    dots,
    widthsUm: scale ? marks.widths.map(({ from, to }) => 1000 * scale.mmPerPx * distance(from, to)) : [],
  };
}

export interface Measured {
  /** Hairs per square centimetre. */
  readonly density?: Estimate;
  readonly unitDensity?: Estimate;
  readonly hairsPerUnit?: Estimate;
  /** Thin and vellus hairs among all, as a fraction. */
  readonly thin?: Estimate;
  readonly vellus?: Estimate;
  /** Mean shaft diameter in micrometres. */
  readonly diameterUm?: Estimate & { readonly n: number; readonly sd: number };
}

/**
 * What the counts come to. A density has the error of counting (exact Poisson limits), of hairs on the edge (each as likely in as
 * out) and of the scale, which enters an area twice; a diameter that of the mean and of the scale.
 */
export function measured(marks: Marks, counted: Counted = count(marks)): Measured {
  const { scale, areaMm2, hairs, onEdge, classes, classed, inUnits, units, widthsUm } = counted;
  const isCounted = marks.counted.includes(HAIRS);
  const perCm2 = (n: number, edge: number): Estimate | undefined => {
    if (!scale || !areaMm2 || !isCounted) return undefined;
    const { value, low, high } = widened(poisson(n), Math.sqrt(edge) / 2);
    const factor = 100 / areaMm2;
    return widened(
      { value: value * factor, low: low * factor, high: high * factor },
      2 * scale.error * value * factor,
    );
  };
  const sizes = Object.entries(units).flatMap(([size, n]) => Array<number>(n).fill(Number(size)));
  const diameter = mean(widthsUm);
  const density = perCm2(hairs, onEdge);
  const unitDensity =
    inUnits && hairs > 0 ? perCm2(sizes.length, onEdge / (hairs / sizes.length)) : undefined;
  const perUnit = inUnits ? mean(sizes) : undefined;
  const thin = classed && isCounted ? share(classes.thin + classes.vellus, hairs) : undefined;
  const vellus = classed && isCounted ? share(classes.vellus, hairs) : undefined;
  return {
    ...(density ? { density } : {}),
    ...(unitDensity ? { unitDensity } : {}),
    ...(perUnit ? { hairsPerUnit: perUnit } : {}),
    ...(thin ? { thin } : {}),
    ...(vellus ? { vellus } : {}),
    ...(diameter && scale
      ? { diameterUm: { ...diameter, ...widened(diameter, scale.error * diameter.value) } }
      : {}),
  };
}

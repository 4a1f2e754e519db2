/**
 * How far two people's marks of one picture agree. Hairs that one of them marked and the other did not are seen; hairs that
 * neither marked are not, so agreement is told as positive specific agreement, twice the shared marks over all marks of both
 * (Dice 1945; for two raters without a count of shared negatives: Hripcsak and Rothschild 2005), and for the class of the
 * shared hairs as Cohen's kappa (Cohen 1960). All three from memory.
 */
import { distance } from "./geometry.js";
import { type Estimate, share } from "./intervals.js";
import { HAIR_CLASSES, type HairMark, type Marks, type Point } from "./marks.js";
import { scaleOf } from "./scale.js";

/** Marks of one hair by two hands lie no further apart than this: millimetres, or pixels without a scale (common practice, no source). */
const SAME_MM = 0.1;
const SAME_PX = 8;

export interface Agreement {
  /** Index pairs of marks that both set. */
  readonly shared: readonly (readonly [number, number])[];
  readonly onlyFirst: number;
  readonly onlySecond: number;
  /** Positive specific agreement; undefined where neither marked anything. */
  readonly agreement?: Estimate;
  /** Cohen's kappa of the classes of shared hairs; undefined where it has no value. */
  readonly classKappa?: number;
}

/** Agreement of two people's hairs. Both must have marked the same picture. */
export function agreement(first: Marks, second: Marks): Agreement {
  const scale = scaleOf(first) ?? scaleOf(second);
  const shared = pairs(
    first.hairs.map(({ at }) => at),
    second.hairs.map(({ at }) => at),
    scale ? SAME_MM / scale.mmPerPx : SAME_PX,
  );
  const onlyFirst = first.hairs.length - shared.length;
  const onlySecond = second.hairs.length - shared.length;
  // Agreement grows with the shared part of all hairs, so the limits of that part give its own.
  const part = share(shared.length, shared.length + onlyFirst + onlySecond);
  const specific = (p: number) => (2 * p) / (1 + p);
  const kappa = cohen(first.hairs, second.hairs, shared);
  return {
    shared,
    onlyFirst,
    onlySecond,
    ...(part
      ? { agreement: { value: specific(part.value), low: specific(part.low), high: specific(part.high) } }
      : {}),
    ...(kappa === undefined ? {} : { classKappa: kappa }),
  };
}

/** Pairs of points no further apart than `within`, the nearest first, each point once. */
export function pairs(first: readonly Point[], second: readonly Point[], within: number): [number, number][] {
  const near = first.flatMap((from, i) =>
    second.flatMap((to, j) => {
      const far = distance(from, to);
      return far <= within ? [{ i, j, far }] : [];
    }),
  );
  near.sort((a, b) => a.far - b.far || a.i - b.i || a.j - b.j);
  const taken = { first: new Set<number>(), second: new Set<number>() };
  return near.flatMap(({ i, j }): [number, number][] => {
    if (taken.first.has(i) || taken.second.has(j)) return [];
    taken.first.add(i);
    taken.second.add(j);
    return [[i, j]];
  });
}

function cohen(
  first: readonly HairMark[],
  second: readonly HairMark[],
  shared: readonly (readonly [number, number])[],
): number | undefined {
  const classed = shared.flatMap(([i, j]) => {
    const [a, b] = [first[i]?.class, second[j]?.class];
    return a && b ? [[a, b] as const] : [];
  });
  const n = classed.length;
  const observed = classed.filter(([a, b]) => a === b).length / n;
  const expected = HAIR_CLASSES.reduce((sum, name) => {
    const a = classed.filter(([x]) => x === name).length;
    const b = classed.filter(([, y]) => y === name).length;
    return sum + (a * b) / (n * n);
  }, 0);
  return n === 0 || expected === 1 ? undefined : (observed - expected) / (1 - expected);
}

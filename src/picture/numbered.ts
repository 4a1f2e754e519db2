/** Marks as paper shows them: findings numbered in the order of their first arrow, outlines of patches after them. */
import type { FindingId } from "../base/ids.js";
import { count } from "./count.js";
import { type Area, HAIRS, type Marks, type Point } from "./marks.js";

export interface Numbered {
  /** Finding id, or null for the outline of a patch. */
  readonly legend: readonly { readonly number: number; readonly finding: FindingId | null }[];
  readonly pointers: readonly { readonly at: Point; readonly number: number }[];
  readonly outlines: readonly { readonly points: readonly Point[]; readonly number: number }[];
  /** The area drawn, and how many hairs were counted in it. */
  readonly area?: Area;
  readonly hairs?: number;
}

export function numbered(marks: Marks): Numbered {
  const findings = [...new Set(marks.arrows.map(({ finding }) => finding))];
  const legend: { number: number; finding: FindingId | null }[] = findings.map((finding, i) => ({
    number: i + 1,
    finding,
  }));
  const pointers = marks.arrows.map(({ at, finding }) => ({ at, number: findings.indexOf(finding) + 1 }));
  const number = legend.length + 1;
  const outlines = marks.patches.map(({ outline }) => ({ points: outline, number }));
  if (outlines.length > 0) legend.push({ number, finding: null });
  const isCounted = marks.area !== undefined && marks.counted.includes(HAIRS);
  return {
    legend,
    pointers,
    outlines,
    ...(marks.area && isCounted ? { area: marks.area, hairs: count(marks).hairs } : {}),
  };
}

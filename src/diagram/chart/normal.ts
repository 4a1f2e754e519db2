/** A published normal range as a chart shows and says it. */
import { fill } from "../../base/text.js";
import { short } from "./axis.js";
import type { ChartWords } from "./phrases.js";

/** Either end may be open; `label` names the range and, best, its source. */
export interface NormalRange {
  readonly low?: number;
  readonly high?: number;
  readonly label: string;
}

/** The range as a sentence; empty when both ends are open. */
export function sayNormal(normal: NormalRange, unit: string, words: ChartWords): string {
  const { low, high, label } = normal;
  const values = { label, unit, low: short(low ?? 0), high: short(high ?? 0) };
  if (low !== undefined && high !== undefined) return fill(words.normalBetween, values);
  if (low !== undefined) return fill(words.normalFrom, values);
  return high === undefined ? "" : fill(words.normalTo, values);
}

/** A value with its interval as words, without a full stop. */
export function sayValue(
  label: string,
  point: { readonly value: number; readonly low?: number; readonly high?: number },
  unit: string,
  words: ChartWords,
): string {
  if (!Number.isFinite(point.value)) return fill(words.value, { label, value: words.none, unit: "" });
  const said = fill(words.value, { label, value: short(point.value), unit });
  return point.low === undefined || point.high === undefined
    ? said
    : said + fill(words.interval, { low: short(point.low), high: short(point.high) });
}

/** `%` stands close to its number in tight print, words do not; an empty unit adds nothing. */
export function spacedUnit(unit: string): string {
  return unit === "" ? "" : unit.startsWith("/") ? unit : ` ${unit}`;
}

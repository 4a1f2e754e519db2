/** Where values fall on a line and which round numbers mark it. */
export interface Axis {
  readonly low: number;
  readonly high: number;
  readonly ticks: readonly number[];
  /** Place of a value between 0 (low end) and 1 (high end), held inside. */
  place(value: number): number;
}

/** A value held to where sums and differences of doubles neither overflow nor vanish. */
export function clamp(value: number): number {
  return Math.abs(value) < 1e-100 ? 0 : Math.min(1e300, Math.max(-1e300, value));
}

/** An axis that holds all finite `values` with round ticks, at most `wanted` steps; never empty, never endless. */
export function axisFor(values: readonly number[], wanted = 5): Axis {
  const finite = values.filter(Number.isFinite).map(clamp);
  let low = Math.min(...finite, finite.length === 0 ? 0 : Number.POSITIVE_INFINITY);
  let high = Math.max(...finite, finite.length === 0 ? 1 : Number.NEGATIVE_INFINITY);
  // Counts and shares are read against nothing, so zero belongs on the axis unless it would flatten the change.
  if (low > 0 && low < high * 0.75) low = 0;
  if (high - low <= Math.max(Math.abs(low), Math.abs(high)) * 1e-6) {
    const room = Math.abs(low) * 0.2 || 1;
    high += room;
    low = low >= 0 ? Math.max(0, low - room) : low - room;
  }
  const step = roundStep((high - low) / wanted);
  const from = Math.floor(low / step + 1e-9);
  const to = Math.ceil(high / step - 1e-9);
  const ticks = Array.from({ length: to - from + 1 }, (_, i) => Number(((from + i) * step).toPrecision(12)));
  const start = ticks[0]!;
  const end = ticks[ticks.length - 1]!;
  return {
    low: start,
    high: end,
    ticks,
    place: (value) => Math.min(1, Math.max(0, (value - start) / (end - start))),
  };
}

/** The next of 1, 2, 2.5, 5 times a power of ten at or above `least`. */
function roundStep(least: number): number {
  const power = 10 ** Math.floor(Math.log10(least));
  const factor = [1, 2, 2.5, 5, 10].find((f) => f * power >= least * (1 - 1e-9)) ?? 10;
  return factor * power;
}

/** A value in few figures: whole when large, three figures when small, with a power of ten only beyond a million. */
export function short(value: number): string {
  if (!Number.isFinite(value)) return "–";
  const size = Math.abs(value);
  if (size >= 1e6 || (size > 0 && size < 1e-3)) return power(value);
  if (size >= 100) return String(Math.round(value));
  return String(Number(value.toPrecision(3)));
}

const RAISED = "⁰¹²³⁴⁵⁶⁷⁸⁹";

function power(value: number): string {
  const [figures = "", exponent = ""] = value.toExponential(2).split("e");
  const raised = exponent
    .replace("+", "")
    .replace("-", "⁻")
    .replace(/\d/g, (digit) => RAISED[Number(digit)] ?? digit);
  return `${Number(figures)} × 10${raised}`;
}

/** Units that people write, each with its factor to the unit a place counts in. */

const FACTORS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  mm: { mm: 1, cm: 10, m: 1000, um: 0.001, µm: 0.001, μm: 0.001 },
  micrometres: { um: 1, µm: 1, μm: 1, micron: 1, microns: 1, mm: 1000, nm: 0.001 },
  weeks: {
    week: 1,
    weeks: 1,
    wk: 1,
    w: 1,
    wks: 1,
    day: 1 / 7,
    days: 1 / 7,
    d: 1 / 7,
    month: 4.35,
    months: 4.35,
    year: 52.2,
    years: 52.2,
    y: 52.2,
  },
  years: { year: 1, years: 1, y: 1, month: 1 / 12, months: 1 / 12, week: 1 / 52.2, weeks: 1 / 52.2 },
  percent: { "%": 1, percent: 1, pc: 1 },
  times: { x: 1, "×": 1, fold: 1, "-fold": 1 },
  hairs: { hairs: 1, hair: 1 },
};

/** `amount` of a unit in the unit `to`, to three figures; weeks from four on are whole. */
export function converted(amount: number, unit: string, to: string): number | undefined {
  const factor = FACTORS[to]?.[unit.toLowerCase()];
  if (factor === undefined) return undefined;
  const value = Number((amount * factor).toPrecision(3));
  return to === "weeks" && value >= 4 ? Math.round(value) : value;
}

/** By the ending of a key, the unit it counts in. */
const KEY_UNITS: readonly (readonly [ending: string, unit: string])[] = [
  ["weeks", "weeks"],
  ["weeks_before", "weeks"],
  ["years", "years"],
  ["mm", "mm"],
  ["um", "micrometres"],
];

/**
 * The key of `accepted` that asks for the same in another unit: `duration_months` -> `duration_weeks`, from months to
 * weeks.
 */
export function sameInOtherUnit(
  key: string,
  accepted: readonly string[],
): { key: string; from: string; to: string } | undefined {
  for (const word of accepted) {
    for (const [ending, to] of KEY_UNITS) {
      const stem = stemOf(word, ending);
      if (stem === undefined) continue;
      for (const unit of Object.keys(FACTORS[to] ?? {})) {
        if (!/^[a-z]{1,6}$/u.test(unit)) continue;
        const same = ending === "weeks_before" ? `${unit}_before` : `${stem}${unit}`;
        if (key.toLowerCase() === same && key !== word) return { key: word, from: unit, to };
      }
    }
  }
  return undefined;
}

/** What stands before the unit of a key; undefined where it does not end in it. */
function stemOf(word: string, ending: string): string | undefined {
  if (word === ending) return "";
  return word.endsWith(`_${ending}`) ? word.slice(0, word.length - ending.length) : undefined;
}

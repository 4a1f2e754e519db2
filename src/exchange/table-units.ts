/** Units that a column may be in where the visit file counts in another: months of duration become weeks. */

const WEEKS_IN_A_YEAR = 365.25 / 7;

/** By the unit that a key's name ends with: how much of it each unit is. */
const UNITS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  weeks: { weeks: 1, days: 1 / 7, months: WEEKS_IN_A_YEAR / 12, years: WEEKS_IN_A_YEAR },
  mm: { mm: 1, cm: 10, in: 25.4 },
  mm2: { mm2: 1, cm2: 100 },
};

/** The units of a place, that of the visit file first; none where it has only one. */
export function unitsOf(place: string): string[] {
  return Object.keys(factorsOf(place));
}

/** How much of the file's unit one of `unit` is; undefined where the place knows no such unit. */
export function factorOf(place: string, unit: string): number | undefined {
  const factors = factorsOf(place);
  return Object.hasOwn(factors, unit) ? factors[unit] : undefined;
}

/** A number in the file's unit; weeks are told whole, as nobody remembers their parts, save the first month's. */
export function converted(value: number, factor: number): number {
  const exact = Number((value * factor).toPrecision(12));
  const isExact = Number.isInteger(factor) || factor === 25.4;
  return isExact ? exact : exact < 4 ? Math.round(exact * 10) / 10 : Math.round(exact);
}

function factorsOf(place: string): Readonly<Record<string, number>> {
  return UNITS[/(?:^|[._])(weeks|mm2?)$/u.exec(place)?.[1] ?? ""] ?? {};
}

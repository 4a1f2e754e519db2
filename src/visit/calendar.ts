/** Plain dates (`2026-03-12`) without clock or time zone. */

const ISO = /^(\d{4})-(\d{2})-(\d{2})$/u;
const DAY_MS = 86_400_000;

/** True for a day that exists. */
export function isDay(text: string): boolean {
  const m = ISO.exec(text);
  if (!m) return false;
  const [year, month, day] = [Number(m[1]), Number(m[2]), Number(m[3])];
  if (month < 1 || month > 12 || day < 1) return false;
  return day <= new Date(Date.UTC(year, month, 0)).getUTCDate() && year > 0;
}

/** Whole days from one ISO date to another; negative when `to` is earlier. */
export function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(to) - Date.parse(from)) / DAY_MS);
}

/** Full years between two ISO dates, as ages are counted; negative before birth, no number where one is no date. */
export function yearsBetween(from: string, to: string): number {
  if (!ISO.test(from) || !ISO.test(to)) return Number.NaN;
  const years = Number(to.slice(0, 4)) - Number(from.slice(0, 4));
  return to.slice(5) < from.slice(5) ? years - 1 : years;
}

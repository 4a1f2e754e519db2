/** How long it has lasted, from whichever of the ways of saying it the history uses. */
import type { Visit } from "../visit/visit.js";

const WEEKS_A_YEAR = 52;

/** Age in whole years, give or take one; undefined where the year of birth is not known. */
export function roughAge(visit: Visit): number | undefined {
  const age = Number.parseInt(visit.date, 10) - Number.parseInt(visit.patient.born, 10);
  return Number.isNaN(age) ? undefined : age;
}

/** Weeks since it began: as told, or from the age at which it began; undefined where the history does not say. */
export function lastedWeeks(visit: Visit): number | undefined {
  const { durationWeeks, began } = visit.history;
  if (durationWeeks !== undefined) return durationWeeks;
  if (began?.weeksBefore !== undefined) return began.weeksBefore;
  const age = roughAge(visit);
  if (began === undefined || age === undefined) return undefined;
  return Math.max(0, age - (began.ageYears ?? 0)) * WEEKS_A_YEAR;
}

/** Half a year: less is told of as new, in an infant too. */
const NOT_NEW = 26;

/** True when it began by that age and has been there for half of life, or began at birth. */
export function begunBy(visit: Visit, years: number): boolean {
  if (visit.history.began?.when === "birth") return true;
  const age = roughAge(visit);
  const weeks = lastedWeeks(visit);
  if (age === undefined || weeks === undefined || weeks < NOT_NEW) return false;
  const lasted = weeks / WEEKS_A_YEAR;
  return age - lasted <= years && lasted >= age / 2;
}

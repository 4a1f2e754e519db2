/** When a line of the plan is due: a day worked out from words such as `within 4 weeks`, and the words that lead the line. */

import { fill } from "../base/text.js";
import type { PlanLine, Urgency } from "../visit/visit.js";
import { capital, type Words, writeDate } from "./phrases.js";

const NUMBERS: Readonly<Record<string, number>> = {
  a: 1,
  one: 1,
  two: 2,
  three: 3,
  four: 4,
  five: 5,
  six: 6,
  seven: 7,
  eight: 8,
  ten: 10,
  twelve: 12,
};
const SPAN = /^(?:(?:within|in)\s+)?(\d{1,3}|[a-z]+)\s+(day|week|month)s?$/iu;

/** The day so many days after an ISO date. */
export function daysAfter(date: string, days: number): string {
  return new Date(Date.parse(date) + days * 86_400_000).toISOString().slice(0, 10);
}

/** The day meant by `within 4 weeks`, `2 weeks` or `in a month`, counted from the visit; nothing for other words. */
export function dayOf(when: string, visitDate: string): string | undefined {
  const [, count, unit] = SPAN.exec(when.trim().replace(/\.$/u, "")) ?? [];
  if (!count || !unit) return undefined;
  const n = NUMBERS[count.toLowerCase()] ?? Number(count);
  if (!Number.isInteger(n)) return undefined;
  return unit.toLowerCase() === "month"
    ? monthsAfter(visitDate, n)
    : daysAfter(visitDate, unit === "day" ? n : n * 7);
}

/** The same day of a later month, or that month's last day. */
function monthsAfter(date: string, months: number): string {
  const [year = 0, month = 1, day = 1] = date.split("-").map(Number);
  const last = new Date(Date.UTC(year, month + months, 0)).getUTCDate();
  return new Date(Date.UTC(year, month - 1 + months, Math.min(day, last))).toISOString().slice(0, 10);
}

/** By when a line is due, as an ISO date; nothing where neither a day nor a span was written. */
export function dueDay(line: PlanLine, visitDate: string): string | undefined {
  return line.by ?? (line.when ? dayOf(line.when, visitDate) : undefined);
}

/** `Same day`, `By 9 April 2026`, `Soon (before the holidays)`: what stands before the action, with its capital. */
export function leadOf(words: Words, line: PlanLine, visitDate: string): string {
  const { urgency } = line;
  const due = dueDay(line, visitDate);
  const main = [
    ...(urgency ? [words.urgency[urgency]] : []),
    ...(due ? [fill(words.by_day, { date: writeDate(words, due) })] : []),
  ].join(", ");
  // A span that the day was counted from says the same again.
  const when = due && !line.by ? "" : inWords(words, line.when?.replace(/\.$/u, "") ?? "");
  return capital(main && when ? `${main} (${when})` : main || when);
}

/** What cannot wait, and today, in the language of the document; other words as typed. */
export function inWords(words: Words, when: string): string {
  if (AT_ONCE.test(when)) return words.urgency.now;
  if (/^(?:today|heute|hoy)$/iu.test(when)) return words.phrases.today ?? when;
  return TODAY.test(when) ? words.urgency["same day"] : when;
}

/** What is to be done before the patient leaves, or on the day, in the words a plan is written in. */
const AT_ONCE = /^(?:now|at once|immediately|straight away|sofort|jetzt|ahora|de inmediato)\.?$/iu;
const TODAY = /^(?:today|(?:on )?the same day|heute|hoy)\.?$/iu;
/** Days after the visit by which a line without a day is expected, for its place in the order alone. Common practice, no source. */
const EXPECTED: Readonly<Record<Urgency, number>> = { now: 0, "same day": 0, days: 3, soon: 28 };

/** The turn of a line that has no time. */
export const LAST_TURN = "3";

/** A text to sort lines by: now, the same day, then by day; what has neither comes last. */
export function turnOf(line: PlanLine, visitDate: string): string {
  const { urgency, when = "" } = line;
  if (urgency === "now" || AT_ONCE.test(when.trim())) return "0";
  if (urgency === "same day" || TODAY.test(when.trim())) return "1";
  const day = dueDay(line, visitDate) ?? (urgency && daysAfter(visitDate, EXPECTED[urgency]));
  return day ? `2 ${day}` : LAST_TURN;
}

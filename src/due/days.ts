/** How long things took: must-not-miss lines until they were closed, visits until they were signed and their letters sent. */
import type { RegisterLine } from "../register/line.js";
import { daysBetween } from "../visit/calendar.js";
import type { ReadVisit } from "./visits.js";

/** Lengths in days, in order. */
export type Days = readonly number[];

const inOrder = (days: readonly number[]): Days => days.toSorted((a, b) => a - b);

/** The middle one, and the middles of both halves (the quartiles of Tukey's hinges). */
export function middles(days: Days): { median: number; lower: number; upper: number } | null {
  if (days.length === 0) return null;
  const half = Math.ceil(days.length / 2);
  return {
    lower: middle(days.slice(0, half)),
    median: middle(days),
    upper: middle(days.slice(days.length - half)),
  };
}

function middle(days: Days): number {
  const at = (i: number) => days[i] ?? 0;
  const half = Math.floor(days.length / 2);
  return days.length % 2 === 1 ? at(half) : (at(half - 1) + at(half)) / 2;
}

/** For each must-not-miss line: days until it was closed, or so far where it stands open. */
export function linesOpen(
  chains: readonly (readonly ReadVisit[])[],
  today: string,
): { closed: Days; open: Days } {
  const closed: number[] = [];
  const open: number[] = [];
  for (const chain of chains) {
    const since = new Map<string, string>();
    for (const { extract } of chain) {
      const { date } = extract.identity;
      for (const id of extract.closes) {
        const from = since.get(id);
        if (from === undefined || from >= date) continue;
        closed.push(daysBetween(from, date));
        since.delete(id);
      }
      for (const line of extract.lines) {
        if (line.open) since.set(line.id, since.get(line.id) ?? date);
        else if (!since.has(line.id) && !closedBefore(chain, line.id, date)) closed.push(0);
      }
    }
    for (const from of since.values()) open.push(daysBetween(from, today));
  }
  return { closed: inOrder(closed), open: inOrder(open) };
}

/** A line that an earlier visit raised is counted there; raised and closed again at a later visit it is the same line. */
function closedBefore(chain: readonly ReadVisit[], id: string, date: string): boolean {
  return chain.some(
    ({ extract }) => extract.identity.date < date && extract.lines.some((line) => line.id === id),
  );
}

/** From the visit to its signing, as the visit files tell it. */
export function untilSigned(visits: readonly ReadVisit[]): Days {
  return inOrder(
    visits.flatMap(({ extract: { signed, identity } }) => {
      const days = signed && signed.at !== "" ? daysBetween(identity.date, signed.at.slice(0, 10)) : -1;
      return days >= 0 ? [days] : [];
    }),
  );
}

/** From the signing of a visit to the day its first letter left, as the register tells it. */
export function untilSent(visits: readonly ReadVisit[], register: readonly RegisterLine[]): Days {
  const sent = new Map<string, string>();
  for (const line of register) {
    if (line.kind !== "sent") continue;
    const before = sent.get(line.visit);
    if (before === undefined || line.on < before) sent.set(line.visit, line.on);
  }
  return inOrder(
    visits.flatMap(({ extract: { signed, identity } }) => {
      const on = sent.get(identity.visit);
      const days = on && signed && signed.at !== "" ? daysBetween(signed.at.slice(0, 10), on) : -1;
      return days >= 0 ? [days] : [];
    }),
  );
}

/** `4 July 1991`, `1991-7-4`, `1991/07/04`, `2026-03-12T10:30`: dates that are clear and yet not year-month-day. */
import { isDay } from "../calendar.js";
import type { ValueSlip } from "./slip.js";

const MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

export const dateWords: ValueSlip = {
  problem: "not-a-date",
  examples: [
    { good: "  born: 1991-07-04", bad: "  born: 4 July 1991" },
    { good: "  born: 1991-07-04", bad: "  born: 1991-7-4" },
    { good: "  born: 1991-07-04", bad: "  born: 1991-07-04T10:30" },
  ],
  notice({ want, written }) {
    if (want.kind !== "date" || written === undefined) return undefined;
    const day = readable(written.trim().toLowerCase());
    if (day === undefined || !isDay(day)) return undefined;
    return {
      problem: "not-a-date",
      message: `"${written.trim()}" is not written as year-month-day`,
      expected: "year-month-day",
      suggestion: day,
    };
  },
};

function readable(text: string): string | undefined {
  const figures = /^(\d{4})\s*[-/.]\s*(\d{1,2})\s*[-/.]\s*(\d{1,2})(?:[t ].*)?$/u.exec(text);
  if (figures) return iso(figures[1], figures[2], figures[3]);
  const packed = /^(\d{4})(\d{2})(\d{2})$/u.exec(text);
  if (packed) return iso(packed[1], packed[2], packed[3]);
  const dayFirst = /^(\d{1,2})(?:st|nd|rd|th)?[ .-]+([a-z]{3,9})\.?[ ,-]+(\d{4})$/u.exec(text);
  if (dayFirst) return iso(dayFirst[3], month(dayFirst[2]), dayFirst[1]);
  const monthFirst = /^([a-z]{3,9})\.?[ -]+(\d{1,2})(?:st|nd|rd|th)?[ ,-]+(\d{4})$/u.exec(text);
  if (monthFirst) return iso(monthFirst[3], month(monthFirst[1]), monthFirst[2]);
  return undefined;
}

const month = (name = "") => String(MONTHS.indexOf(name.slice(0, 3)) + 1);
const iso = (y = "", m = "", d = "") => `${y}-${m.padStart(2, "0")}-${d.padStart(2, "0")}`;

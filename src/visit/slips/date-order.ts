/** `04/07/1991`: a date in figures, in an order that one reader takes for July and the next for April. */
import { isDay } from "../calendar.js";
import type { ValueSlip } from "./slip.js";

export const dateOrder: ValueSlip = {
  problem: "date-order",
  examples: [
    { good: "  born: 1991-07-04", bad: "  born: 04/07/1991" },
    { good: "  born: 1991-07-24", bad: "  born: 24.7.1991" },
  ],
  notice({ want, written }) {
    if (want.kind !== "date" || written === undefined) return undefined;
    const match = /^\s*(\d{1,2})\s*[./-]\s*(\d{1,2})\s*[./-]\s*(\d{2}|\d{4})\s*$/u.exec(written);
    if (!match) return undefined;
    const [first, second, year] = [match[1] ?? "", match[2] ?? "", match[3] ?? ""];
    const read = [isoDay(year, second, first), isoDay(year, first, second)];
    const days = [...new Set(read)].filter((day) => isDay(day));
    return {
      problem: "date-order",
      message:
        year.length === 2
          ? `"${written.trim()}" gives the year in two figures`
          : days.length === 1
            ? `"${written.trim()}" is not written as year-month-day`
            : `"${written.trim()}" does not say which figure is the month`,
      expected: "year-month-day",
      suggestion: days.join(" or ") || undefined,
    };
  },
};

const isoDay = (year: string, month: string, day: string) =>
  `${year}-${month.padStart(2, "0")}-${day.padStart(2, "0")}`;

/** A visit that lies ahead, long ago, or in another year than its own number says. */
import type { CheckContext } from "../check-context.js";

const EARLIEST = "1990-01-01";

export function visitDate({ file, report, today }: CheckContext): void {
  const date = file.visit?.date;
  if (date === undefined) return;
  const path = ["visit", "date"];
  if (today !== undefined && date > today) {
    report("visit-in-future", path, { message: `the visit of ${date} lies ahead (today is ${today})` });
  } else if (date < EARLIEST) {
    report("visit-long-ago", path, { message: `a visit of ${date}`, expected: `a day since ${EARLIEST}` });
  }
  const year = /(?<!\d)(?:19|20)\d{2}(?!\d)/u.exec(file.visit?.id ?? "")?.[0];
  if (year !== undefined && year !== date.slice(0, 4)) {
    report("year-against-id", path, {
      message: `the visit's number says ${year}, its date ${date.slice(0, 4)}`,
      related: [{ message: "number of the visit", path: ["visit", "id"] }],
    });
  }
}

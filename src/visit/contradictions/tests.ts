/** Tests taken after the visit or before birth, recorded twice, or without a result or unit. */
import { type CheckContext, entries } from "../check-context.js";

export function tests({ file, report }: CheckContext): void {
  const visit = file.visit?.date;
  const born = file.patient?.born;
  const first = new Map<string, number>();
  for (const [i, { name, value, unit, result, date, range }] of entries(file.tests)) {
    const path = ["tests", i];
    const isBorn = born !== undefined && (visit === undefined || born <= visit);
    if (date !== undefined && isBorn && date < born) {
      report("test-before-birth", [...path, "date"], {
        message: `a test of ${date}, before the patient was born`,
        related: [{ message: "date of birth", path: ["patient", "born"] }],
      });
    } else if (date !== undefined && visit !== undefined && date > visit) {
      report("test-after-visit", [...path, "date"], {
        message: `a test of ${date}, after the visit of ${visit}`,
        related: [{ message: "date of the visit", path: ["visit", "date"] }],
      });
    }
    if (name === undefined) continue;
    if (value === undefined && result === undefined) {
      report("test-without-result", path, {
        absent: "value",
        message: `${name} has no result`,
        expected: "value and unit, or result in words",
        suggestion: "result: awaited",
      });
    }
    const figure = /^\s*(\d+(?:[.,]\d+)?)(?:\s*\p{L}\S{0,12})?\s*$/u.exec(result ?? "")?.[1];
    if (value === undefined && figure !== undefined && (unit ?? range) !== undefined) {
      report("figure-in-result", [...path, "result"], {
        message: `${name} has its figure among the words of the result: the unit and the range beside it go unused`,
        expected: "value and unit",
        suggestion: `value: ${figure.replace(",", ".")}`,
      });
    }
    if (value !== undefined && unit === undefined) {
      report("value-without-unit", [...path, "value"], {
        message: `${name} ${value} has no unit`,
        expected: "unit: ug/L, for example",
      });
    }
    const same = `${name.toLowerCase()} ${date ?? ""}`;
    const earlier = first.get(same);
    if (earlier === undefined) first.set(same, i);
    else {
      report("test-twice", path, {
        message: `${name} stands twice${date ? ` for ${date}` : ""}`,
        related: [{ message: "first one here", path: ["tests", earlier] }],
      });
    }
  }
}

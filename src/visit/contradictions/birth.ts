/** A date of birth that does not fit the visit, and what a patient of that age cannot have. */
import { daysBetween, yearsBetween } from "../calendar.js";
import type { CheckContext } from "../check-context.js";

const OLDEST = 120;
const ADULT_TITLE = /^(?:dr|prof|professor|mrs|rev|reverend|capt|captain)\b/iu;

export function birth({ file, report }: CheckContext): void {
  const born = file.patient?.born;
  const date = file.visit?.date;
  if (born === undefined || date === undefined) return;
  const path = ["patient", "born"];
  if (born > date) {
    report("born-after-visit", path, {
      message: `born ${born}, after the visit of ${date}`,
      expected: `a day up to ${date}`,
      related: [{ message: "date of the visit", path: ["visit", "date"] }],
    });
    return;
  }
  const age = yearsBetween(born, date);
  if (age > OLDEST) {
    report("too-old", path, {
      message: `born ${born}, the patient would be ${age} years old`,
      expected: `at most ${OLDEST} years`,
      related: [{ message: "date of the visit", path: ["visit", "date"] }],
    });
    return;
  }
  const title = file.patient?.name?.title;
  if (age < 16 && title !== undefined && ADULT_TITLE.test(title)) {
    report("title-against-age", path, {
      message: `${title} for a patient aged ${age}`,
      expected: "a year of birth that fits",
    });
  }
  const weeks = file.history?.duration_weeks;
  const lived = daysBetween(born, date) / 7;
  if (weeks !== undefined && weeks > lived + 1) {
    report("longer-than-life", ["history", "duration_weeks"], {
      message: `${weeks} weeks are longer than the patient has lived (${Math.floor(lived)} weeks)`,
      expected: "weeks",
      related: [{ message: "date of birth", path }],
    });
  }
  pregnancy({ file, report }, age);
}

function pregnancy({ file, report }: CheckContext, age: number): void {
  const word = file.patient?.pregnancy;
  if (word === undefined || word === "no") return;
  const male = file.patient?.sex === "male";
  if (!male && age >= 11 && age <= 55) return;
  report("pregnancy-unlikely", ["patient", "pregnancy"], {
    message: `"${word}" for a patient ${male ? "recorded as male" : `aged ${age}`}`,
    expected: "sex, date of birth and pregnancy that fit each other",
  });
}

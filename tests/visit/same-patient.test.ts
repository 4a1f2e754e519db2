/** Whose acceptance counts, and what a birth date that is left out tells. */
import { expect, test } from "vitest";
import { differences, type Identity, openDifferences } from "../../src/visit/same-patient.js";

const who = (given: Partial<Identity>): Identity => ({
  visit: "TS-1",
  date: "2026-01-15",
  patient: "TS-51206",
  given: "Runa",
  family: "Havelock",
  born: "1984-09-30",
  sex: "female",
  accepts: [],
  ...given,
});

test("a birth date left out in one of two visits tells nothing, another one does", () => {
  expect(differences(who({}), who({ born: "" }))).toEqual([]);
  expect(differences(who({ born: "" }), who({}))).toEqual([]);
  expect(differences(who({}), who({ born: "1984-09-03" }))).toEqual(["born-differs"]);
});

test("the later of two accepts a difference; the earlier cannot accept what came after it", () => {
  const accepts = ["family-differs"];
  const later = { date: "2026-04-15", family: "Lund" };
  expect(openDifferences(who({}), who({ ...later, accepts }), [])).toEqual([]);
  expect(openDifferences(who({ ...later, accepts }), who({}), [])).toEqual([]);
  expect(openDifferences(who({ accepts }), who(later), [])).toEqual(["family-differs"]);
});

test("a visit of the same person between the two accepts it for them; one before both does not", () => {
  const earlier = who({});
  const later = who({ date: "2026-04-15", family: "Lund" });
  const other = (date: string) => who({ date, family: "Lund", accepts: ["family-differs"] });
  expect(openDifferences(earlier, later, [other("2026-02-15")])).toEqual([]);
  expect(openDifferences(earlier, later, [other("2026-01-14")])).toEqual(["family-differs"]);
  expect(openDifferences(earlier, later, [other("2026-04-16")])).toEqual(["family-differs"]);
});

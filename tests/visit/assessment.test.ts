/** A site is told apart by what was looked for there. */
import { expect, test } from "vitest";
import { assessmentOf } from "../../src/visit/assessment.js";
import type { FindingSeen } from "../../src/visit/visit.js";

const present: FindingSeen = { finding: "yellow-dots", seen: { state: "present", amount: null } };
const absent: FindingSeen = { finding: "black-dots", seen: { state: "absent" } };

test("a sign counts as a finding does", () => {
  const bare = { findings: [], fields: [{}], diametersUm: [] };
  expect(assessmentOf({ ...bare, signs: { "shiny-skin": true, scale: false } })).toBe("seen");
  expect(assessmentOf({ ...bare, signs: { "shiny-skin": false } })).toBe("none seen");
  expect(assessmentOf({ ...bare, signs: {} })).toBe("counted only");
});

test.each([
  ["seen", [absent, present], [{ hairs: 3 }], [60]],
  ["none seen", [absent], [{ hairs: 3 }], []],
  ["counted only", [], [{ hairs: 3 }], []],
  ["counted only", [], [], [60]],
  ["not assessed", [], [], []],
] as const)("%s", (expected, findings, fields, diametersUm) => {
  expect(assessmentOf({ findings, fields, diametersUm })).toBe(expected);
});

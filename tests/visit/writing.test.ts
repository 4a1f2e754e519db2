/** How a visit is laid out when it is written: what belongs on one line stands on one, as long as it fits there. */
import { expect, test } from "vitest";
import { parseVisit } from "../../src/visit/read.js";
import { writeVisit } from "../../src/visit/write.js";
import { testKnowledge } from "./test-knowledge.js";

const HEAD = `format: 1
visit: { id: V-1, date: 2026-03-12, seen_by: anneli-thorsby }
patient: { id: TS-1, name: { given: Ivo, family: Quill }, born: 1988-05-01, sex: male }
send_to: [{ role: general practitioner, name: Dr Ilse Brandt, address: [1 Fish Street] }]
`;

/** The part of the written file from a key at the margin to the next. */
function written(rest: string, key: string): string {
  const { value, problems } = parseVisit(`${HEAD}${rest}\n`, "v.yaml", testKnowledge, {
    today: "2026-04-01",
  });
  if (!value) throw new Error(problems.map((p) => p.message).join("; "));
  const text = writeVisit(value, testKnowledge);
  return new RegExp(`^${key}:[\\s\\S]*?(?=^\\S|$(?![\\s\\S]))`, "mu").exec(text)?.[0] ?? "";
}

test("a small map stands on one line, a map of maps on several", () => {
  expect(
    written(
      "history: { began: { when: congenital }, symptoms: { itch: 3, pain: 0 }, onset: gradual }",
      "history",
    ),
  ).toBe(`history:
  began: { when: birth }
  onset: gradual
  symptoms: { itch: 3, pain: 0 }
`);
});

test("a list of tests has one line for each, but what is too long for a line has lines of its own", () => {
  const long =
    "no hyphae seen on three slides, and nothing grown on either medium after six weeks in the dark";
  expect(
    written(`tests: [{ name: RPR, result: negative }, { name: mycology, result: "${long}" }]`, "tests"),
  ).toBe(`tests:
  - { name: RPR, result: negative }
  - name: mycology
    result: ${long}
`);
});

test("medicines stand on one line, words and what is known of them, until they are too many", () => {
  expect(
    written("history: { medicines: [cetirizine, { name: minoxidil, since_weeks: 8 }] }", "history"),
  ).toBe(`history:
  medicines: [ cetirizine, { name: minoxidil, since_weeks: 8 } ]
`);
  const names = Array.from({ length: 12 }, (_, i) => `lotion number ${i}`);
  expect(written(`history: { medicines: [${names}] }`, "history")).toBe(
    `history:\n  medicines:\n${names.map((name) => `    - ${name}\n`).join("")}`,
  );
});

test("a beginning at birth may be told in three ways", () => {
  for (const word of ["birth", "at birth", "Congenital"])
    expect(written(`history: { began: { when: ${word} } }`, "history")).toContain("began: { when: birth }");
});

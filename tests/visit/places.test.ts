/** Problems of later checks underline what they are about: under the file's own spelling, past entries left empty. */
import { expect, test } from "vitest";
import { parseVisit, placeAndAccept, placeProblems } from "../../src/visit/read.js";
import { testKnowledge } from "./test-knowledge.js";

const TEXT = `format: 1
visit: { id: TS-1, date: 2026-03-12, status: draft, seen_by: a, reason: New patch. }
patient: { id: P-1, name: { given: Runa, family: Sandvik }, born: 1991-07-04, sex: female }
examination:
  signs: { Boggy-Swelling: no }
sites:
  -
  - site: vertex
    findings:
      Black-Dot: few
      yellow dot: none
    none_of: [broken hairs, Comma Hairs]
    fields:
      -
      - { hairs: 30 }
accept:
  - { id: visit-in-future, reason: Known to us. }
`;
const read = parseVisit(TEXT, "visit.yaml", testKnowledge);

/** The line of a path, and what is underlined in it. */
function at(path: string): [number | undefined, string] {
  const [problem] = placeProblems(read.places, [{ severity: "note", id: "left-empty", message: "", path }]);
  const { line = 0, column = 1, length = 0 } = problem ?? {};
  return [problem?.line, (TEXT.split("\n")[line - 1] ?? "").slice(column - 1, column - 1 + length)];
}

test.each([
  ["sites[0].findings.yellow dots", 11, "none"],
  ["sites[0].findings.yellow-dots", 11, "none"],
  ["sites[0].findings.black dots", 10, "few"],
  ["sites[0].findings.comma hairs", 12, "Comma Hairs"],
  ["sites[0].findings.broken-hairs", 12, "broken hairs"],
  ["sites[0].fields[0].hairs", 15, "30"],
  ["examination.signs.boggy-swelling", 5, "no"],
  ["patient.sex", 3, "female"],
])("%s", (path, line, underlined) => {
  expect(at(path)).toEqual([line, underlined]);
});

test("a place that is not in the file falls to its nearest parent", () => {
  expect(at("sites[0].findings.coiled hairs")[0]).toBe(10);
  expect(at("patient.pregnancy")).toEqual([3, TEXT.split("\n")[2]?.slice(9)]);
});

test("an accepted warning becomes a placed note; one with a place keeps it", () => {
  const warning = {
    severity: "warning",
    id: "visit-in-future",
    message: "Look.",
    path: "visit.date",
  } as const;
  const kept = {
    severity: "error",
    id: "unknown-key",
    message: "Wrong.",
    path: "visit.id",
    line: 9,
    column: 2,
  } as const;
  expect(placeAndAccept(read, [warning, kept])).toEqual([
    kept,
    {
      ...warning,
      severity: "note",
      message: "Look. (accepted: Known to us.)",
      file: "visit.yaml",
      line: 2,
      column: 26,
      length: 10,
    },
  ]);
});

/** What a finding is called, and whether an unassessed one is named at all, changes nothing downstream. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { interpret } from "../../src/interpret/interpret.js";
import { parseVisit } from "../../src/visit/read.js";
import { NO_MEASURES } from "../interpret/visits.js";
import { runs } from "../runs.js";
import { findingIds, knowledge } from "./interpret-visits.js";

const written = (lines: readonly string[]) =>
  [
    "format: 1",
    "visit: { id: TS-2026-0733, date: 2026-06-09, status: draft, seen_by: rafiq-oyelaran, reason: Patchy loss. }",
    "patient:",
    "  id: TS-42117",
    "  name: { given: Iver, family: Sandoval-Nygaard }",
    "  born: 1988-04-30",
    "  sex: male",
    "sites:",
    "  - site: vertex",
    lines.length > 0 ? "    findings:" : "    findings: {}",
    ...lines.map((line) => `      ${line}`),
    "",
  ].join("\n");

const read = (lines: readonly string[]) => {
  const { value, problems } = parseVisit(written(lines), "visit.yaml", knowledge);
  if (!value) throw new Error(problems.map((p) => p.message).join("; "));
  return interpret(value, NO_MEASURES, knowledge);
};

const quoted = (word: string) => JSON.stringify(word);
const anyFinding = fc.constantFrom(...findingIds);
const anyAmount = fc.constantFrom("none", "single", "few", "several", "many", "throughout");

describe("words", () => {
  it("a synonym, a capital or an underscore means the same as the term", () => {
    fc.assert(
      fc.property(anyFinding, anyAmount, fc.nat(), (id, amount, pick) => {
        const { term = id, also = [] } = knowledge.findings[id] ?? {};
        const words = [...also, term.toUpperCase(), id.replaceAll("-", "_")];
        const other = words[pick % words.length] ?? term;
        expect(read([`${quoted(other)}: ${amount}`])).toEqual(read([`${quoted(term)}: ${amount}`]));
      }),
      { numRuns: runs(40) },
    );
  });

  it("only what was assessed counts: the same visit without the rest of the vocabulary", () => {
    const i = read(["yellow dots: many"]);
    const other = read(["yellow dots: many", "comma hairs: none"]);
    expect(i.notAssessed).not.toContain("yellow-dots");
    expect(other.disorders.map((d) => d.score)).not.toEqual(i.disorders.map((d) => d.score));
    for (const d of i.disorders) {
      const named = [...d.for, ...d.against].filter((r) => r.kind === "finding").map((r) => r.id);
      expect(named.filter((id) => id !== "yellow-dots")).toEqual([]);
    }
  });
});

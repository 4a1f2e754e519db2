/** Every slip carries lines that show it: the bad one raises it where it stands, the good one raises no error. */
import { readdirSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { parseVisit } from "../../src/visit/read.js";
import { lineSlips } from "../../src/visit/slips/line-slips.js";
import { keySlips, valueSlips } from "../../src/visit/slips/slips.js";
import { unclosedBracket } from "../../src/visit/slips/unclosed-bracket.js";
import { testKnowledge } from "./test-knowledge.js";

/** A visit with the given lines in the place where lines of their kind stand. */
function visitWith(lines: string): string {
  const parts = {
    top: "",
    visit: "",
    patient: "",
    history: "",
    scope: "",
    site: "",
    finding: "",
    impression: "",
  };
  const body = lines.trimStart();
  const part = lines.startsWith("      ")
    ? "finding"
    : body.startsWith("certainty")
      ? "impression"
      : lines.startsWith("    ")
        ? "site"
        : /^(?:born|sex|phototype)/u.test(body)
          ? "patient"
          : body.startsWith("field_diameter")
            ? "scope"
            : body.startsWith("reason")
              ? "visit"
              : /^\s/u.test(lines)
                ? "history"
                : "top";
  parts[part] = `${lines}\n`;
  const unless = (key: string, line: string) =>
    Object.values(parts).some((p) => p.trimStart().startsWith(key)) ? "" : line;
  return [
    "visit:\n  id: TS-1\n  date: 2026-05-05\n  seen_by: a\n",
    parts.visit,
    "patient:\n  id: P-1\n  name: { given: Runa, family: Sandvik }\n",
    unless("born", "  born: 1991-07-04\n"),
    parts.patient,
    "history:\n  course: stable\n",
    parts.history,
    parts.scope ? `scope:\n${parts.scope}` : "",
    "sites:\n  - site: vertex\n",
    parts.site,
    "    findings:\n      broken hairs: none\n",
    parts.finding,
    parts.impression ? `impression:\n  - disorder: alopecia areata\n${parts.impression}` : "",
    parts.top,
  ].join("");
}

const cases = [...lineSlips, unclosedBracket, ...keySlips, ...valueSlips].flatMap((slip) =>
  slip.examples.map((example) => ({ slip, ...example })),
);

describe("slips", () => {
  test.each(cases)("$bad", ({ slip, good, bad }) => {
    const errors = (lines: string) =>
      parseVisit(visitWith(lines), "visit.yaml", testKnowledge).problems.filter(
        (p) => p.severity === "error",
      );
    expect(errors(good)).toEqual([]);
    const found = errors(bad);
    expect(found.length).toBe(1);
    const shown = visitWith(bad).split("\n")[(found[0]?.line ?? 0) - 1] ?? "";
    expect(bad).toContain(shown.trim());
    // A slip alone in its group is told by the same words, though its id may be that of the line slip.
    expect([slip.problem, "missing-space"]).toContain(found[0]?.id);
  });

  test("each file of the folder is in a list", () => {
    const files = readdirSync(inPackage("src", "visit", "slips"));
    const lists = ["slip.ts", "slips.ts", "line-slips.ts", "units.ts"];
    const listed = lineSlips.length + 1 + keySlips.length + valueSlips.length;
    expect(files.filter((file) => !lists.includes(file)).length).toBe(listed);
  });
});

describe("an open bracket", () => {
  const closers = (line: string) => unclosedBracket.notice(line)?.expected;
  test.each([
    ["widths: [72, 35", "] at the end"],
    ["a: { b: [1, 2", "]} at the end"],
    ["a: { b: [1, 2]", "} at the end"],
    ["a: [1 # [2]", "] at the end"],
    ["a: [1, b#c, {d", "}] at the end"],
    ["a: ['x]', 2", "] at the end"],
    ["a: [it's, 2", "] at the end"],
  ])("%s wants %s", (line, wanted) => {
    expect(closers(line)).toBe(wanted);
  });
  test.each(["a: [1, 2]", "a: { b: [1] }", "# [a", "a: 1 # {", 'a: "[x"', "a: '{'"])(
    "%s has none",
    (line) => {
      expect(closers(line)).toBeUndefined();
    },
  );
  test("is named by its own column, and the line is mended at its end", () => {
    expect(unclosedBracket.notice("a: { b: [1, 2,  ")).toMatchObject({
      column: 9,
      length: 1,
      repaired: "a: { b: [1, 2]}",
    });
  });
});

describe("a phototype", () => {
  const problems = (phototype: string) =>
    parseVisit(visitWith(`  phototype: ${phototype}`), "visit.yaml", testKnowledge)
      .problems.filter((p) => p.severity === "error")
      .map((p) => [p.id, p.suggestion]);
  test.each([
    ["1", "I"],
    ["6", "VI"],
    ["type 4", "IV"],
    ["Fitzpatrick iii", "III"],
  ])("in the figure %s is %s", (written, roman) => {
    expect(problems(written)).toEqual([["phototype-figure", roman]]);
  });
  test("that is no figure at all is an unknown word", () => {
    expect(problems("olive").map(([id]) => id)).toEqual(["unknown-word"]);
  });
});

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

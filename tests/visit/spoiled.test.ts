/** Every spoiled file gives exactly the problems written beside it. `ACCEPT=1 npx vitest run tests/visit` rewrites them. */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { describe, expect, test } from "vitest";
import { hasError } from "../../src/base/problem.js";
import { inPackage } from "../../src/base/root.js";
import { problemTable } from "../../src/visit/problems.js";
import { parseVisit } from "../../src/visit/read.js";
import { show } from "./show.js";
import { testKnowledge } from "./test-knowledge.js";

const folder = inPackage("tests", "bad");
const files = readdirSync(folder).filter((file) => file.endsWith(".yaml"));

describe("spoiled files", () => {
  test.each(files)("%s", (file) => {
    const text = readFileSync(join(folder, file), "utf8");
    const { value, problems } = parseVisit(text, file, testKnowledge, { today: "2026-12-01" });
    const expectedFile = join(folder, `${basename(file, ".yaml")}.problems.txt`);
    const shown = show(problems);
    if (process.env.ACCEPT) writeFileSync(expectedFile, shown);
    expect(shown).toBe(readFileSync(expectedFile, "utf8"));
    expect(value === undefined).toBe(hasError(problems));
    const lines = text.split("\n");
    for (const { id, line = 0, column = 0, length = 1 } of problems) {
      expect(Object.keys(problemTable)).toContain(id);
      expect(line).toBeGreaterThan(0);
      expect(line).toBeLessThanOrEqual(lines.length);
      expect(column + length - 1).toBeLessThanOrEqual(Math.max(1, (lines[line - 1] ?? "").length));
    }
  });
});

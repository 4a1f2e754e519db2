/** Every good file reads without a problem, as the Visit written beside it, and again after it was written back. */
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { basename, join } from "node:path";
import { describe, expect, test } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { parseVisit } from "../../src/visit/read.js";
import { writeVisit } from "../../src/visit/write.js";
import { testKnowledge } from "./test-knowledge.js";

const folder = inPackage("tests", "good");
const files = readdirSync(folder).filter((file) => /(?<!\.marks)\.yaml$/u.test(file));

describe("good files", () => {
  test.each(files)("%s", (file) => {
    const text = readFileSync(join(folder, file), "utf8");
    const { value, problems } = parseVisit(text, file, testKnowledge, { today: "2026-12-01" });
    // A draft may have gaps, a finished visit none.
    expect(value?.status === "draft" ? problems.filter((p) => p.severity === "error") : problems).toEqual([]);
    const expectedFile = join(folder, `${basename(file, ".yaml")}.expected.json`);
    if (process.env.ACCEPT) writeFileSync(expectedFile, `${JSON.stringify(value, null, 1)}\n`);
    expect(value).toEqual(JSON.parse(readFileSync(expectedFile, "utf8")));
    if (!value) return;
    expect(parseVisit(writeVisit(value, testKnowledge), file, testKnowledge).value).toEqual(value);
  });
});

test("the examples read without an error, with the shipped knowledge, and again after they were written back", () => {
  const knowledge = loadKnowledge();
  const examples = readdirSync(inPackage("examples", "patients"), { recursive: true, encoding: "utf8" });
  for (const file of examples.filter((name) => /(?<!\.marks)\.yaml$/u.test(name))) {
    const text = readFileSync(join(inPackage("examples", "patients"), file), "utf8");
    const { value, problems } = parseVisit(text, file, knowledge, { today: "2026-12-31" });
    expect(problems.filter((p) => p.severity === "error")).toEqual([]);
    if (value) expect(parseVisit(writeVisit(value, knowledge), file, knowledge).value).toEqual(value);
  }
});

/** The table of messages: every row is complete, and every message is shown by some file or test. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { problemTable } from "../../src/visit/problems.js";

const textsOf = (folder: string, ending: string) =>
  readdirSync(inPackage(folder))
    .filter((file) => file.endsWith(ending))
    .map((file) => readFileSync(join(inPackage(folder), file), "utf8"))
    .join("\n");

test("every row says what it means, how it comes about and what cures it", () => {
  for (const [id, { meaning, example, cure }] of Object.entries(problemTable)) {
    expect(id).toMatch(/^[a-z0-9]+(?:-[a-z0-9]+)*$/u);
    for (const sentence of [meaning, cure]) expect(sentence, id).toMatch(/^[A-Z].*[.]$/su);
    expect(example.length, id).toBeGreaterThan(0);
  }
});

test("every message is shown by a spoiled file or a test", () => {
  const shown =
    textsOf("tests/bad", ".problems.txt").replaceAll(/^\S+ (?:error|warning|note) ([a-z0-9-]+):/gmu, '"$1"') +
    textsOf("tests/attacks", ".test.ts") +
    textsOf("tests/visit", "clinic.test.ts").replaceAll(/"\d+:([a-z-]+)"/gu, '"$1"');
  const unseen = Object.keys(problemTable).filter((id) => !shown.includes(`"${id}"`));
  expect(unseen).toEqual([]);
});

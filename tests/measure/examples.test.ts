/** Runs the worked examples of every score module against the shipped knowledge, to their printed digits. */
import { readdirSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { SCORES } from "../../src/measure/registry.js";
import { computeOne, modulesOf } from "../../src/measure/run.js";
import type { Measures } from "../../src/measure/types.js";

const knowledge = loadKnowledge();
const names = (...folder: string[]) =>
  readdirSync(inPackage(...folder))
    .map((f) => f.replace(/\.(ts|yaml)$/u, ""))
    .sort();

test("every module of the folder is listed, and has its knowledge file", () => {
  expect(SCORES.map((s) => s.id).sort()).toEqual(names("src", "measure", "scores"));
  const listed = modulesOf(knowledge).map((s) => s.id);
  // comparison.yaml says how two visits are compared; no single visit has it.
  expect([...listed, "comparison"].sort()).toEqual(names("src", "knowledge", "scores"));
});

describe.each(modulesOf(knowledge).map((module) => [module.id, module] as const))("%s", (id, module) => {
  const score = knowledge.scores[id];
  if (!score) throw new Error(`no knowledge file for ${id}`);

  test("its knowledge file holds nothing that the module does not read", () => {
    const shape = "shape" in module.table ? Object.keys(module.table.shape as object) : [];
    const known = [
      "id",
      "term",
      "about",
      "inputs",
      "source",
      "how",
      "response",
      "published",
      "plain",
      ...shape,
    ];
    expect(Object.keys(score).filter((key) => !known.includes(key))).toEqual([]);
  });

  test("has at least one example", () => {
    expect(module.examples.length).toBeGreaterThan(0);
  });

  test.each(module.examples.map((e) => [e.from, e] as const))("%s", (_, example) => {
    const made = computeOne(module, { inputs: example.inputs }, module.table.parse(score), score);
    // An example that says nothing of what comes out would hold for anything.
    const said = Object.keys(example.gives).map((key) => key.replace(/^\w+:|\..*$/gu, ""));
    const unsaid = [...made.measured, ...made.rules].filter(({ id }) => !said.includes(id));
    expect(unsaid.map(({ id }) => id)).toEqual([]);
    expect(said.length).toBeGreaterThan(0);
    for (const [key, expected] of Object.entries(example.gives)) {
      if (expected === undefined) continue;
      expect(found(made, key, expected), key).toBe(expected);
    }
  });
});

/** What was made under the key, printed with as many digits as expected. */
function found(made: Measures, key: string, expected: string | boolean | null): unknown {
  const [kind, id] = key.split(":");
  if (kind === "missing") return made.notMeasured.some((m) => m.id === id);
  if (kind === "rule") return made.rules.find((r) => r.id === id)?.met;
  const [first, part] = key.split(".");
  const rule = made.rules.find((r) => r.id === first);
  if (rule && part && !["low", "high", "band"].includes(part))
    return rule.criteria.find((c) => c.id === part)?.met;
  const measured = made.measured.find((m) => m.id === first);
  if (!measured) return `nothing measured under ${first}`;
  if (part === "band") return measured.band ?? null;
  // What is recorded as it stands is held whole, as it is printed.
  if (/ \D/u.test(String(expected))) return `${measured.value.toFixed(measured.places)} ${measured.unit}`;
  const value = part === "low" ? measured.low : part === "high" ? measured.high : measured.value;
  const digits = String(expected).split(".")[1]?.length ?? 0;
  return value?.toFixed(digits);
}

/** A visit weighs the same whichever visits came before it, in whichever process, and whatever draws were kept or dropped. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import { expect, it, vi } from "vitest";
import type { Knowledge } from "../../src/knowledge/schema.js";
import { patients, whorlProcess } from "../cli/run-whorl.js";
import { some } from "../runs.js";

/** A visit that the draws leave undecided, so that other draws would print other numbers. */
const file = join(patients, "TS-38870", "2026-08-04.yaml");
const others = some(
  readdirSync(patients)
    .flatMap((id) => readdirSync(join(patients, id)).map((name) => join(patients, id, name)))
    .filter((path) => path.endsWith(".yaml") && path !== file),
  1 / 4,
);

/** The library as a process that has just begun has it: no draws made yet. */
async function begun() {
  vi.resetModules();
  const { examineVisit, explainJson, loadKnowledge } = await import("../../src/index.js");
  const explain = (path: string, knowledge: Knowledge) => {
    const { value } = examineVisit(path, { knowledge, today: "2027-01-01" });
    if (!value) throw new Error(`${path} is not a whole visit`);
    return `${JSON.stringify(explainJson(value.interpretation, value.measures), null, 2)}\n`;
  };
  return { explain, knowledge: loadKnowledge() };
}

it("gives the same bytes first, last, after more visits than draws are kept for, and from a process of its own", async () => {
  const early = await begun();
  const first = early.explain(file, early.knowledge);
  expect(first).toMatch(/"leads": 0\.[2-8]/u);

  const late = await begun();
  for (const other of [...others].reverse()) late.explain(other, late.knowledge);
  expect(late.explain(file, late.knowledge)).toBe(first);

  // Each copy of the knowledge has rows of its own, so that three of them push the first one's draws out.
  for (let copy = 0; copy < 3; copy++) {
    const knowledge = { ...late.knowledge };
    for (const other of others) late.explain(other, knowledge);
  }
  expect(late.explain(file, late.knowledge)).toBe(first);

  const ran = whorlProcess(["explain", file, "--json"]);
  expect(ran.code, ran.err).toBe(0);
  expect(ran.out).toBe(first);
});

/** Single lines of a history: those that tell of a danger, however oddly, and those that only sound so. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { z } from "zod";
import { mustNotMiss } from "../../src/interpret/cautions.js";
import { factsOf } from "../../src/interpret/facts.js";
import type { MustNotMiss } from "../../src/interpret/interpretation.js";
import { URGENCIES } from "../../src/knowledge/facts-schema.js";
import { measure } from "../../src/measure/index.js";
import type { Visit } from "../../src/visit/visit.js";
import { root } from "../house/source-files.js";
import { examined, knowledge, visitOf } from "./visits.js";

const { raise, quiet } = z
  .strictObject({
    raise: z.array(z.tuple([z.string(), z.enum(URGENCIES), z.number(), z.string(), z.string()])),
    quiet: z.array(z.tuple([z.number(), z.string(), z.string()])),
  })
  .parse(parse(readFileSync(join(root, "tests", "hazards", "told.yaml"), "utf8")));

/** The visit is of 12 March 2026. */
const born = (age: number) => (age === 0 ? "2025-08-10" : `${2026 - age}-01-10`);
const patients = new Map<string, Visit>();

/** The words as the notes of a visit; each patient's file is read once. */
function told(age: number, sex: string, notes: string): Visit {
  const key = `${age} ${sex}`;
  const visit = patients.get(key) ?? visitOf({ patient: { born: born(age), sex } });
  patients.set(key, visit);
  return { ...visit, history: { ...visit.history, notes } };
}

const isOpen = (line: MustNotMiss) => line.closedBy === null;

describe("a line of the history", () => {
  it.each(raise)("raises %s, %s, at %d, %s: %s", (line, urgency, age, sex, notes) => {
    const visit = told(age, sex, notes);
    // Words raise their lines before anything is weighed.
    const found = mustNotMiss(factsOf(visit, measure(visit, knowledge), knowledge)).filter(isOpen);
    expect(found.map((m) => m.id)).toContain(line);
    const rank = found.filter((m) => m.id === line).map((m) => URGENCIES.indexOf(m.urgency));
    expect(Math.min(...rank)).toBeLessThanOrEqual(URGENCIES.indexOf(urgency));
  });

  it.each(quiet)("raises nothing at %d, %s: %s", (age, sex, notes) => {
    const { mustNotMiss: lines } = examined(told(age, sex, notes)).interpretation;
    expect(lines.filter(isOpen).map((m) => m.id)).toEqual([]);
  });
});

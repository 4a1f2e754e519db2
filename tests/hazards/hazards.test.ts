/** Every hazard of the log has a scenario or a test that shows its controls at work, and every scenario a hazard. */
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { z } from "zod";
import { agreementProblems } from "../../src/interpret/interpret.js";
import { root } from "../house/source-files.js";
import { examined, knowledge, textsOf, visitOf } from "./visits.js";

const words = z.array(z.string()).default([]);
const scenarioSchema = z.strictObject({
  visit: z.record(z.string(), z.unknown()),
  expect: z.strictObject({
    /** Lines that must stand; `closed_by: nothing` asks for an open one. */
    raises: z
      .array(
        z.strictObject({ id: z.string(), urgency: z.string().optional(), closed_by: z.string().optional() }),
      )
      .default([]),
    quiet: words,
    asks: words,
    letter: words,
    letter_not: words,
    handout: words,
    handout_not: words,
  }),
});

const folder = join(root, "tests", "hazards");
const scenarios = readdirSync(folder, { withFileTypes: true }).flatMap((entry) =>
  entry.isDirectory()
    ? readdirSync(join(folder, entry.name)).map((file) => ({ hazard: entry.name, file }))
    : [],
);

describe("the hazard log", () => {
  const shown = new Set(scenarios.map((s) => s.hazard));
  it("holds thirty hazards or more", () => {
    expect(Object.keys(knowledge.hazards).length).toBeGreaterThanOrEqual(30);
  });
  it.each(Object.values(knowledge.hazards).map((h) => [h.id, h] as const))(
    "%s is shown at work",
    (id, hazard) => {
      const missing = hazard.shown_by.filter((file) => !existsSync(join(root, file)));
      expect(missing).toEqual([]);
      expect(shown.has(id) || hazard.shown_by.length > 0).toBe(true);
    },
  );
  it("has a hazard for every folder of scenarios and every line", () => {
    const lines = Object.values(knowledge.cautions).flatMap((c) => c.must_not_miss?.id ?? []);
    expect([...new Set([...shown, ...lines])].filter((id) => !knowledge.hazards[id])).toEqual([]);
  });
  it("names a room or file of the product at each control", () => {
    for (const hazard of Object.values(knowledge.hazards)) {
      for (const { where } of hazard.controls) {
        const path = where.split(/[,\s]/u)[0] ?? "";
        expect(existsSync(join(root, path)), `${hazard.id}: ${path}`).toBe(true);
      }
    }
  });
});

describe.each(scenarios)("$hazard/$file", ({ hazard, file }) => {
  const scenario = scenarioSchema.parse(parse(readFileSync(join(folder, hazard, file), "utf8")));
  const seen = examined(visitOf(scenario.visit));
  const { visit, measures, interpretation } = seen;
  const wanted = scenario.expect;
  const lines = interpretation.mustNotMiss;

  it("raises, closes and leaves quiet what it must", () => {
    const ids = lines.map((m) => m.id);
    for (const { id, urgency, closed_by: closed } of wanted.raises) {
      const line = lines.find((m) => m.id === id);
      expect(ids, `${id} is raised`).toContain(id);
      if (urgency) expect(line?.urgency, id).toBe(urgency);
      if (closed) expect(line?.closedBy?.kind ?? "nothing", id).toBe(closed);
      expect(line?.raisedBy, `${id} says by what`).not.toEqual([]);
    }
    const raisedAt = wanted.quiet.flatMap((id) => lines.filter((m) => m.id === id));
    expect(raisedAt.map((m) => ({ id: m.id, by: m.raisedBy }))).toEqual([]);
    expect(interpretation.askedFor.map((a) => a.id)).toEqual(expect.arrayContaining(wanted.asks));
    const open = agreementProblems(visit, measures, interpretation, knowledge)
      .filter((p) => p.id === "must-not-miss-open" && p.severity === "warning")
      .map((p) => p.message);
    for (const line of lines) {
      const said = open.some((message) => message.includes(`(${line.id}, ${line.urgency})`));
      expect(said, line.id).toBe(line.closedBy === null);
    }
  });

  const { letter, letter_not: letterNot, handout, handout_not: handoutNot } = wanted;
  // Most scenarios are about the reasoning alone.
  const kinds = [
    ...(letter.length + letterNot.length > 0 ? ["referral-letter"] : []),
    ...(handout.length + handoutNot.length > 0 ? ["handout"] : []),
  ];
  if (kinds.length > 0)
    it("prints what it must and nothing that it must not", async () => {
      const made = await textsOf(seen, kinds);
      const textOf = (kind: string) => (kinds.includes(kind) ? made(kind) : "");
      // What the clinician wrote stands in the letter as written; only our own words are judged.
      const written = [visit.reason, visit.history.notes ?? "", visit.examination.scalp ?? ""];
      const own = written.reduce(
        (text, one) => (one ? text.replaceAll(one.replace(/\.$/u, ""), "") : text),
        textOf("referral-letter"),
      );
      for (const text of letter) expect(textOf("referral-letter")).toContain(text);
      for (const text of letterNot) expect(own.toLowerCase()).not.toContain(text);
      for (const text of handout) expect(textOf("handout")).toContain(text);
      for (const text of handoutNot) expect(textOf("handout").toLowerCase()).not.toContain(text);
    });
});

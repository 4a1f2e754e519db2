/** Every red flag raises its line by each way that it can be told: its question, signs, exposures, medicines, symptoms, findings, words. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { z } from "zod";
import { mustNotMiss } from "../../src/interpret/cautions.js";
import { factsOf } from "../../src/interpret/facts.js";
import { measure } from "../../src/measure/index.js";
import type { Visit } from "../../src/visit/visit.js";
import { root } from "../house/source-files.js";
import { knowledge, visitOf } from "./visits.js";

const flags = z
  .array(
    z.strictObject({
      flag: z.string(),
      of: z.strictObject({ age: z.int(), sex: z.string() }),
      beside: z.record(z.string(), z.record(z.string(), z.unknown()).or(z.array(z.unknown()))).default({}),
      lines: z.array(z.string()),
      urgency: z.string().optional(),
      raise: z.array(z.string()),
      leave_alone: z.array(z.string()),
    }),
  )
  .parse(parse(readFileSync(join(root, "tests", "hazards", "phrases.yaml"), "utf8")));
type Flag = (typeof flags)[number];

const born = (age: number) => (age === 0 ? "2025-11-10" : `${2026 - age}-01-10`);

interface Person {
  readonly age: number;
  readonly sex?: string;
}

function visitFor(patient: Person, parts: Record<string, unknown>): Visit {
  const who = { born: born(patient.age), sex: patient.sex ?? "female" };
  const of = (parts.patient as object | undefined) ?? {};
  return visitOf({ ...parts, patient: { ...who, ...of } });
}

/** What is told and seen raises its lines before anything is weighed. */
const linesIn = (visit: Visit) => mustNotMiss(factsOf(visit, measure(visit, knowledge), knowledge));
const linesOf = (patient: Person, parts: Record<string, unknown>) => linesIn(visitFor(patient, parts));

/** Which of the words raise one of the lines of the flag, as urgent as it has to be. */
function raising(flag: Flag, words: readonly string[]): string[] {
  const visit = visitFor(flag.of, flag.beside);
  return words.filter((notes) =>
    linesIn({ ...visit, history: { ...visit.history, notes } }).some(
      (m) =>
        m.closedBy === null && flag.lines.includes(m.id) && (!flag.urgency || m.urgency === flag.urgency),
    ),
  );
}

describe("red flags", () => {
  it("have phrases each", () => {
    const red = Object.values(knowledge.facts).filter((f) => f.kind === "red flag" || f.urgency);
    expect(flags.map((f) => f.flag).toSorted()).toEqual(red.map((f) => f.id).toSorted());
  });

  it.each(flags)("$flag: answered yes", (flag) => {
    const term = knowledge.facts[flag.flag]?.term ?? "";
    const ids = linesOf(flag.of, { ...flag.beside, asked: { [term]: true } }).map((m) => m.id);
    expect(
      ids.some((id) => flag.lines.includes(id)),
      ids.join(", "),
    ).toBe(true);
  });

  // Nearly all are read; those that are not are known, and the share may only grow.
  it("are read from words, and seldom where they are not meant", () => {
    const unread = flags.flatMap((f) => {
      const read = raising(f, f.raise);
      return f.raise.filter((words) => !read.includes(words));
    });
    const alarms = flags.flatMap((f) => raising(f, f.leave_alone));
    const all = flags.flatMap((f) => f.raise).length;
    const quiet = flags.flatMap((f) => f.leave_alone).length;
    expect(unread.length / all, unread.join("; ")).toBeLessThanOrEqual(0.02);
    expect(alarms.length / quiet, alarms.join("; ")).toBeLessThanOrEqual(0.05);
  });
});

const sign = (...signs: string[]) => ({
  examination: { signs: Object.fromEntries(signs.map((s) => [s, true])) },
});
const seen = (...findings: string[]) => ({
  sites: [{ site: "vertex", findings: Object.fromEntries(findings.map((f) => [f, "several"])) }],
});
const exposed = (...exposures: string[]) => ({ history: { exposures } });
const takes = (medicines: readonly unknown[], more: object = {}) => ({ history: { medicines, ...more } });

const WAYS: readonly (readonly [line: string, age: number, parts: Record<string, unknown>])[] = [
  ["arteritis", 70, sign("tender temple artery")],
  ["arteritis", 70, sign("black or dead-looking skin")],
  ["arteritis", 70, { history: { symptoms: { pain: 6 }, duration_weeks: 3 } }],
  ["bezoar", 11, { ...sign("tummy pain, vomiting or early fullness"), history: { notes: "pulls her hair" } }],
  ["kerion", 9, sign("boggy swelling")],
  ["kerion", 40, sign("boggy swelling")],
  ["skin-cancer", 72, sign("purple or bruise-like patch")],
  ["skin-cancer", 66, sign("crusted or ulcerated single lesion")],
  ["skin-cancer", 66, sign("firm or growing lump")],
  ["skin-cancer", 50, seen("blue-white veil")],
  ["skin-cancer", 50, seen("blue-grey ovoid nests")],
  ["zoster", 50, sign("blisters or crusts on one side")],
  ["deep-infection", 40, sign("pus or oozing", "fever or feeling ill")],
  ["lice-infection", 7, { ...seen("viable nits"), ...sign("honey-coloured crusts") }],
  ["syphilis", 30, { examination: { pattern: ["moth-eaten"] } }],
  ["syphilis", 30, sign("rash of palms or soles")],
  ["syphilis", 30, exposed("sexual contact at risk")],
  ["syphilis-in-pregnancy", 30, { patient: { pregnancy: "pregnant" }, ...sign("rash of palms or soles") }],
  ["poisoning", 40, exposed("poison")],
  ["poisoning", 40, { ...exposed("co-workers affected"), examination: { pattern: ["diffuse"] } }],
  ["poisoning", 40, takes(["thallium"])],
  ["hair-dye-reaction", 40, { ...exposed("hair dye"), ...sign("swollen eyelids or face") }],
  ["virilisation", 5, exposed("hormone gel at home")],
  ["drug-toxicity", 50, takes(["methotrexate"], { onset: "sudden" })],
  ["drug-toxicity", 50, { ...takes(["colchicine"]), ...seen("tapered hairs") }],
  ["drug-toxicity", 50, { ...takes(["carbimazole"]), ...sign("fever or feeling ill") }],
  ["drug-cause", 50, takes(["isotretinoin"])],
  ["drug-cause", 50, exposed("radiation of the head")],
  ["unborn-harm", 30, { patient: { pregnancy: "pregnant" }, ...takes(["acitretin"]) }],
  ["immune-suppression", 50, { ...takes(["adalimumab"]), ...seen("follicular pustules") }],
  [
    "severe-drug-reaction",
    30,
    { ...takes(["lamotrigine"]), ...sign("widespread rash", "fever or feeling ill") },
  ],
  ["steroid-on-infection", 7, { ...takes(["clobetasol"]), ...seen("comma hairs") }],
  ["safeguarding", 1, sign("bruises")],
  ["infant-disease", 0, sign("blood spots or sores of scalp and folds")],
  [
    "starvation",
    17,
    {
      asked: {
        "weight loss or strict diet in the months before": true,
        "cold, faint, downy hair or stopped periods": true,
      },
    },
  ],
  ["scarring", 50, seen("loss of openings")],
  ["scarring", 50, sign("openings lost to the naked eye")],
  ["fungal-infection", 7, seen("comma hairs")],
  ["hair-pulling-child", 10, seen("flame hairs")],
];

describe("ways to a line", () => {
  it.each(WAYS)("%s at %d by %j", (line, age, parts) => {
    expect(linesOf({ age }, parts).map((m) => m.id)).toContain(line);
  });

  it("an asked question that was answered no raises nothing by itself", () => {
    for (const flag of flags) {
      const term = knowledge.facts[flag.flag]?.term ?? "";
      const open = linesOf(flag.of, { asked: { [term]: false } }).filter((m) => m.closedBy === null);
      expect(
        open.map((m) => m.id),
        flag.flag,
      ).toEqual([]);
    }
  });
});

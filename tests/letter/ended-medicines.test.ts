/** Advice on a medicine is given while it is taken, and no longer. */
import { describe, expect, it } from "vitest";
import { factsOf } from "../../src/interpret/facts.js";
import { meaningRule, type Sentence, type Sign, wordsOf } from "../../src/knowledge/sentence.js";
import { haveEnded } from "../../src/letter/ended-medicines.js";
import type { Visit } from "../../src/visit/visit.js";
import { compose, exampleOf, knowledge, wordsIn } from "./compose.js";

const base = exampleOf("TS-2026-0141");
const chemo = ["cytotoxic-medicine"];

function ended(history: Partial<Visit["history"]>, reason: string, classes?: readonly string[]): boolean {
  const visit: Visit = {
    ...base.visit,
    reason,
    history: { ...base.visit.history, medicines: [], past: [], triggers: [], ...history },
  };
  return haveEnded(factsOf(visit, base.measures, knowledge), classes);
}

describe("a medicine has ended", () => {
  it.each<[string, Partial<Visit["history"]>, string, readonly string[] | undefined, boolean]>([
    ["by the list", { medicines: [{ name: "docetaxel", stoppedWeeks: 8 }] }, "Hair loss.", chemo, true],
    [
      "by a name with its end",
      { medicines: [{ name: "docetaxel, stopped in May" }] },
      "Hair loss.",
      chemo,
      true,
    ],
    ["among past disorders", { past: ["chemotherapy finished in September"] }, "Hair loss.", chemo, true],
    ["in the reason", {}, "Six weeks after the last cycle of chemotherapy.", chemo, true],
    [
      "by the list, whatever words name it",
      { medicines: [{ name: "docetaxel", stoppedWeeks: 8 }] },
      "Loss on docetaxel.",
      chemo,
      true,
    ],
    [
      "not while another of its class goes on",
      { medicines: [{ name: "docetaxel", stoppedWeeks: 8 }, { name: "paclitaxel" }] },
      "Hair loss.",
      chemo,
      false,
    ],
    [
      "but not another",
      { medicines: [{ name: "docetaxel", stoppedWeeks: 8 }, { name: "amlodipine" }] },
      "Hair loss.",
      undefined,
      false,
    ],
    ["not by a cycle that is one of many", {}, "On her third cycle of docetaxel.", chemo, false],
    ["not when it is to end", {}, "Chemotherapy will be finished in June.", chemo, false],
    ["not when it was denied", {}, "She has not stopped docetaxel.", chemo, false],
    ["not in another sentence", {}, "On docetaxel. Shedding has stopped.", chemo, false],
    ["not where nothing is told of it", {}, "Hair loss.", chemo, false],
  ])("%s", (_, history, reason, classes, expected) => {
    expect(ended(history, reason, classes)).toBe(expected);
  });

  it("and the handout asks for nothing that belongs to taking it", () => {
    const text = wordsIn(compose("handout", exampleOf("TS-2026-0699")).html);
    expect(text).toContain("Some medicines can affect hair.");
    expect(text).not.toMatch(/do not stop|warning card|keep to it as planned/u);
  });
});

describe("sentences about a medicine", () => {
  it("that speak of taking it are left out where it has ended", () => {
    const speaks =
      /\b(?:stop|go on with|stay on)\b.*\bmedicine|medicine.*\bstop it\b|keep to it as planned|\bdose (?:be changed|is held)|next dose|warning card|on the medicine/iu;
    const isGuarded = (s: Sentence | Sign) =>
      typeof s !== "string" &&
      (s.unless_ended !== undefined || s.tells.some((t) => meaningRule(t).whileTaken));
    const texts: (Sentence | Sign)[] = [
      ...Object.values(knowledge.disorders).flatMap(({ patient: p }) => [
        ...p.is,
        ...p.means,
        ...p.next,
        ...p.ask,
        ...p.help,
      ]),
      ...Object.values(knowledge.cautions).flatMap((c) => [
        ...(c.doctor ? [c.doctor] : []),
        ...(c.patient ? [c.patient] : []),
        ...(c.doctor_also ?? []),
        ...(c.patient_also ?? []),
      ]),
    ];
    const says = (s: Sentence | Sign) => (typeof s === "object" && "sign" in s ? s.sign : wordsOf(s));
    expect(texts.filter((s) => speaks.test(says(s)) && !isGuarded(s)).map(says)).toEqual([]);
    expect(texts.filter((s) => isGuarded(s)).length).toBeGreaterThan(10);
  });
});

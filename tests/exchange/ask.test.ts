import { describe, expect, it } from "vitest";
import { type Asker, askVisit, type Choice } from "../../src/cli/new-ask.js";
import { followUpDraft, visitSkeleton } from "../../src/exchange/exchange.js";
import { parseVisit } from "../../src/visit/read.js";
import { clinic, examples, knowledge } from "./examples.js";

/** Answers by a part of the question; a list ticks or chooses by the names shown. Questions without an answer get none. */
function scripted(answers: Readonly<Record<string, string | readonly string[]>>): {
  asker: Asker;
  asked: string[];
} {
  const asked: string[] = [];
  const left = Object.entries(answers);
  const answerTo = (message: string) => {
    asked.push(message);
    const at = left.findIndex(([part]) => message.includes(part));
    return at === -1 ? undefined : left.splice(at, 1)[0]?.[1];
  };
  const named = <T>(choices: readonly Choice<T>[], name: string): T => {
    const choice = choices.find((c) => c.name === name);
    if (!choice) throw new Error(`no "${name}" among ${choices.map((c) => c.name).join(", ")}`);
    return choice.value;
  };
  const asker: Asker = {
    text: async (message, { fallback, check }) => {
      const answer = answerTo(message);
      const text = typeof answer === "string" ? answer : (fallback ?? "");
      const verdict = check?.(text) ?? true;
      if (verdict !== true) throw new Error(verdict);
      return text;
    },
    choose: async (message, choices) => {
      const answer = answerTo(message);
      return typeof answer === "string" ? named(choices, answer) : choices[0]?.value;
    },
    tick: async (message, choices) => {
      const answer = answerTo(message);
      return Array.isArray(answer) ? answer.map((name: string) => named(choices, name)) : [];
    },
  };
  return { asker, asked };
}

const start = { date: "2026-11-25", sites: [] };
const options = { knowledge, clinic, suspect: [], findings: [] };

describe("the questions", () => {
  it("make a visit of the answers, and leave the rest not assessed", async () => {
    const { asker } = scripted({
      "Number of this visit": "TS-2026-0999",
      "Who saw": "Rafiq Oyelaran",
      "Why did": "Patch at the crown.",
      "Patient number": "TS-49999",
      "Given name": "Ada",
      "Family name": "Lind",
      "Date of birth": "1990-03-02",
      "Sex as recorded": "female",
      "Whom does the letter": "Dr Ilse Brandt",
      "Their address": "Quayside Practice, 1 Fish Street",
      "What do you suspect": ["alopecia areata"],
      "Which places": ["vertex"],
      "what did you see": ["exclamation mark hairs", "yellow dots"],
      "exclamation mark hairs: how many": "several",
      "yellow dots: how many": "seen, without saying how many",
      "look for and not see": ["black dots"],
      "Your impression": "alopecia areata",
      "How sure": "probable",
      "Weeks until": "12",
    });
    const result = await askVisit(asker, start, options);
    if (!result) throw new Error("stopped");
    const text = visitSkeleton(result.draft, { knowledge, suspect: result.suspect });
    const { value, problems } = parseVisit(text, "new.yaml", knowledge, { today: "2026-11-25" });
    expect(problems.filter((p) => p.severity === "error")).toEqual([]);
    expect(value).toMatchObject({
      id: "TS-2026-0999",
      seenBy: "rafiq-oyelaran",
      patient: { id: "TS-49999", name: { given: "Ada", family: "Lind" }, born: "1990-03-02", sex: "female" },
      sendTo: [{ name: "Dr Ilse Brandt", address: ["Quayside Practice", "1 Fish Street"] }],
      impression: [{ disorder: "alopecia-areata", certainty: "probable" }],
      followUp: { weeks: 12 },
      status: "draft",
    });
    expect(new Map(value?.sites[0]?.findings.map((f) => [f.finding, f.seen]))).toEqual(
      new Map([
        ["exclamation-mark-hairs", { state: "present", amount: "several" }],
        ["yellow-dots", { state: "present", amount: null }],
        ["black-dots", { state: "absent" }],
      ]),
    );
  });

  it("do not ask again who the patient of a follow-up is, nor where to look", async () => {
    const previous = examples[0]?.visit;
    if (!previous) throw new Error("no examples");
    const { asker, asked } = scripted({ "Number of this visit": "TS-2026-0999" });
    const result = await askVisit(asker, followUpDraft(previous, "2026-12-01"), options);
    expect(result?.draft.patient).toEqual(previous.patient);
    expect(result?.draft.sites.map((s) => s.site)).toEqual(previous.sites.map((s) => s.site));
    expect(asked.filter((q) => /Family name|Which places|Whom does/u.test(q))).toEqual([]);
  });

  it("make nothing when the person stops", async () => {
    const { asker } = scripted({});
    const stopping: Asker = { ...asker, choose: async () => undefined };
    expect(await askVisit(stopping, start, options)).toBeUndefined();
  });

  it("refuse a disorder nobody knows, with the nearest", async () => {
    const { asker } = scripted({ "Your impression": "alopecia areta" });
    await expect(askVisit(asker, start, options)).rejects.toThrow("perhaps alopecia areata");
  });
});

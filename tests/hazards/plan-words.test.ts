/** Words of a plan never close a line, and withhold no step that is only spoken of or put off. */
import { describe, expect, it } from "vitest";
import { holds } from "../../src/interpret/conditions.js";
import { factsOf } from "../../src/interpret/facts.js";
import { measure } from "../../src/measure/index.js";
import { examined, knowledge, textsOf, visitOf } from "./visits.js";

const BASE = {
  patient: { born: "1956-02-03", sex: "female" },
  sites: [{ site: "vertex", findings: { "loss of openings": "several", "perifollicular scale": "several" } }],
  impression: [{ disorder: "lichen planopilaris", certainty: "probable" }],
};
const visitWith = (...plan: readonly Record<string, unknown>[]) => visitOf({ ...BASE, plan });
const does = (action: string) => ({ who: "clinic", action });

/** Lines that seem to answer and do not. */
const SEEM = [
  "Ask her about a biopsy next year.",
  "Biopsy declined.",
  "If it recurs then biopsy.",
  "Leaflet on biopsy given.",
  "Discussed biopsy.",
  "Consider biopsy.",
  "May need a biopsy later.",
  "She will think about a biopsy.",
  "No biopsy today.",
  "Biopsy unless better by June.",
  "Her sister's biopsy explained.",
  "Refuses biopsy.",
  "Biopsy postponed.",
  "Hold off biopsy for now.",
  "Previous biopsy to be sent for.",
  "Asked what a biopsy costs.",
  "Biopsy cancelled by the ward.",
  "Biopsie, falls es wiederkommt; biopsy not wanted.",
  "Not keen on a biopsy.",
  "Perhaps biopsy in a year.",
] as const;

describe("a plan line that only seems to answer", () => {
  it.each(SEEM)("%s", (action) => {
    const visit = visitWith(does(action));
    const line = examined(visit).interpretation.mustNotMiss.find((m) => m.id === "scarring");
    expect(line?.closedBy).toBeNull();
    expect(holds({ arranged: ["biopsy"] }, factsOf(visit, measure(visit, knowledge), knowledge))).toBe(false);
  });

  it.each(["Punch biopsy from the vertex on Tuesday.", "Biopsy booked for 3 May."])(
    "is under way: %s",
    (action) => {
      const visit = visitWith(does(action));
      expect(holds({ arranged: ["biopsy"] }, factsOf(visit, measure(visit, knowledge), knowledge))).toBe(
        true,
      );
      const line = examined(visit).interpretation.mustNotMiss.find((m) => m.id === "scarring");
      expect(line?.closedBy).toBeNull();
    },
  );

  it("closes nothing until it names the line", () => {
    const visit = visitWith({ ...does("Punch biopsy on Tuesday."), answers: ["scarring"] });
    const line = examined(visit).interpretation.mustNotMiss.find((m) => m.id === "scarring");
    expect(line?.closedBy).toEqual({ kind: "plan", says: "Punch biopsy on Tuesday." });
  });
});

describe("the step against a growth under the scalp", () => {
  const NEEDS = "It needs a biopsy by the local urgent route.";
  const letterWith = async (line: Record<string, unknown>) =>
    (
      await textsOf(
        examined(
          visitOf({
            patient: BASE.patient,
            asked: { "firm or fixed hairless plate": true },
            plan: [line],
          }),
        ),
        ["referral-letter"],
      )
    )("referral-letter");
  it("is told though the plan speaks of a biopsy", async () => {
    expect(await letterWith(does("Biopsy of the crown."))).toContain(NEEDS);
  });
  it("is told no more once a plan line answers the line", async () => {
    expect(await letterWith({ ...does("Biopsy of the crown."), answers: ["malignancy"] })).not.toContain(
      NEEDS,
    );
  });
});

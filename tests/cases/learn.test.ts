/** Lessons are those of the greatest likelihood under the penalty; what is learned hangs on nothing left out. */
import { describe, expect, it } from "vitest";
import { type Lectures, learn } from "./learn.js";

const one = (id: string, confirmed: number[], entries: [number, number][], taught = false) => ({
  id,
  taught,
  confirmed,
  scores: [0, 0],
  entries: entries.map(([feature, factor]) => ({ feature, factor })),
});
const lectures = (lessons: Lectures["lessons"]): Lectures => ({
  disorders: ["harbour-loss", "net-scar"],
  features: ["findings/tar-dots/present", "findings/tar-dots/absent", "facts/sea-air/present"],
  lessons,
});

describe("learning from cases", () => {
  // One case of two equal disorders: 1 / (1 + exp(2 w)) = w, so w = 0.34.
  it("finds the lesson of a single case", () => {
    expect(learn(lectures([one("a", [0], [[0, 1]])]))).toEqual({
      cases: { published: 1, taught: 0 },
      findings: { "tar-dots": { present: { "harbour-loss": 0.34, "net-scar": -0.34 } } },
      facts: {},
    });
  });

  it("learns nothing where every confirmed disorder is confirmed at once", () => {
    expect(learn(lectures([one("a", [0, 1], [[0, 1]], true)]))).toEqual({
      cases: { published: 0, taught: 1 },
      findings: {},
      facts: {},
    });
  });

  it("keeps findings, facts and their states apart", () => {
    const { findings, facts } = learn(
      lectures([one("a", [0], [[0, 1]]), one("b", [1], [[1, 1]]), one("c", [1], [[2, 1]])]),
    );
    expect(findings).toEqual({
      "tar-dots": {
        present: { "harbour-loss": 0.34, "net-scar": -0.34 },
        absent: { "harbour-loss": -0.34, "net-scar": 0.34 },
      },
    });
    expect(facts).toEqual({ "sea-air": { present: { "harbour-loss": -0.34, "net-scar": 0.34 } } });
  });

  it("leaves out what it is told to, and cases of which no confirmed disorder is known", () => {
    const three = [one("a", [0], [[0, 1]]), one("b", [1], [[0, 1]]), one("c", [], [[0, 1]])];
    expect(learn(lectures(three), new Set(["b"]))).toEqual(learn(lectures(three.slice(0, 1))));
    expect(learn(lectures(three)).findings).toEqual({});
  });
});

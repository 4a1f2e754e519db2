/** A word cut off with `*` in the knowledge must not catch everyday words that only begin alike. */
import { describe, expect, it } from "vitest";
import { loadKnowledge } from "../../src/knowledge/load.js";

/** Words of ordinary notes that mean nothing of what a stem beside them looks for. */
const INNOCENT =
  "scalp scalps early earlier tongue pigment pigmented coincidence morphology scarce scarcely squamous dermatomyositis permanent permitted dental dentist sinusitis traction breakfast things think thinks testosterone front frontal raised rayon dropped tonsil tonight relatively patient patience pulmonary weekend thereafter earn shapely toast bullet carefully stable stabilised international bathroom castle celery perhaps person personal hand handle hairdresser landing";
const words = INNOCENT.split(" ");

function* phrases(value: unknown, key = ""): Generator<string> {
  if (Array.isArray(value)) {
    for (const item of value) {
      if (typeof item === "string") {
        if (/^(?:mentions|plan_words)$/u.test(key)) yield item;
        else if (key === "written") yield* item.split(/[|&!.]/u);
      } else yield* phrases(item, key);
    }
  } else if (typeof value === "object" && value !== null) {
    for (const [name, item] of Object.entries(value)) yield* phrases(item, name);
  }
}

describe("a word cut off with a star", () => {
  const stems = [...new Set(phrases(loadKnowledge()))]
    .map((phrase) => phrase.trim().toLowerCase())
    .filter((phrase) => /^[\p{L}'-]+\*$/u.test(phrase))
    .map((phrase) => phrase.slice(0, -1));

  it("stands in many rules", () => {
    expect(stems.length).toBeGreaterThan(150);
  });

  it("catches no everyday word", () => {
    const caught = stems.flatMap((stem) =>
      words.filter((word) => word.startsWith(stem)).map((word) => `${stem}* catches ${word}`),
    );
    expect(caught).toEqual([]);
  });
});

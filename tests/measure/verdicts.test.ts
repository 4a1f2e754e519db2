/** What a change of mean widths is said to be, by how wide its limits are beside a tenth of the first mean. */
import { expect, test } from "vitest";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { compareVisits } from "../../src/measure/change/compare.js";
import { computeOne, modulesOf } from "../../src/measure/run.js";
import { site, visit } from "./visit-for-tests.js";

const knowledge = loadKnowledge();

function verdict(before: readonly number[], after: readonly number[]): string | undefined {
  const [first, second] = [before, after].map((diametersUm, i) =>
    visit({ id: `TS-${i}`, date: `2026-0${i + 1}-15`, sites: [site("vertex", { diametersUm })] }),
  );
  if (!first || !second) return undefined;
  const { value } = compareVisits([first, second], knowledge);
  return value?.overall.measures.find(({ id }) => id === "shaft-diameter")?.verdict ?? undefined;
}

/** Twenty widths, half of them six micrometres below the mean and half above: limits of a difference lie 3.9 to either side. */
const around = (mean: number) => Array.from({ length: 20 }, (_, i) => mean + (i % 2 === 0 ? 6 : -6));

test("within counting error where neither limit reaches a tenth of the first mean", () => {
  expect(verdict(around(50), around(50))).toBe("within counting error");
  expect(verdict(around(35), around(35))).toBe("too little counted to tell");
  expect(verdict(around(50), around(51.5))).toBe("too little counted to tell");
  expect(verdict(around(50), around(48.5))).toBe("too little counted to tell");
});

test("more than counting error where both limits lie on one side of nought", () => {
  expect(verdict(around(50), around(55))).toBe("more than counting error");
  expect(verdict(around(50), around(45))).toBe("more than counting error");
});

test("too little of a single shaft", () => {
  expect(verdict([50], [70])).toBe("too little counted to tell");
});

test("what lies behind each value, by which two visits are compared, in the first worked example of each score", () => {
  const behind = modulesOf(knowledge).flatMap((module) => {
    const score = knowledge.scores[module.id];
    const [example] = module.examples;
    if (!score || !example) return [];
    return computeOne(module, { inputs: example.inputs }, module.table.parse(score), score).measured.flatMap(
      ({ id, counted }) => {
        if (!counted) return [];
        const { kind, ...parts } = counted;
        const said = Object.entries(parts).map(
          ([key, value]) =>
            `${key} ${typeof value === "number" ? Number(value.toFixed(4)) : JSON.stringify(value)}`,
        );
        return [`${id}: ${kind}, ${said.join(", ")}`];
      },
    );
  });
  expect(behind).toMatchInlineSnapshot(`
    [
      "hair-density: rate, count 40, exposure 0.1963, fields 1, published {"clumping":2.2,"cv_percent":9.8}",
      "hairs-per-unit: mean, n 100, mean 2.1, sd 0.7035",
      "single-unit-share: share, part 20, of 100",
      "thin-share: share, part 5, of 50",
      "vellus-share: share, part 5, of 50",
      "discoloured-openings: share, part 12, of 50",
      "black-dots-per-field: rate, count 10, exposure 1, fields 1, published {"clumping":1,"cv_percent":9.8}",
      "yellow-dots-four-fields: rate, count 10, exposure 1, fields 4, published {"clumping":1,"cv_percent":9.8}",
      "shaft-diameter: mean, n 3, mean 54.3333, sd 9.0738",
      "diameter-vellus-like: share, part 1, of 1",
      "diameter-intermediate: share, part 0, of 1",
      "diameter-terminal: share, part 0, of 1",
      "diameter-diversity: share, part 12, of 50",
      "hair-pull: share, part 6, of 50",
      "wash-test: share, part 12, of 60",
      "refined-wash-test: rate, count 90, exposure 3, fields 3, each [30,24,36]",
      "comb-test: rate, count 30, exposure 3, fields 3, each [12,9,9]",
      "trichogram-anagen: share, part 78, of 100",
      "trichogram-catagen: share, part 2, of 100",
      "trichogram-telogen: share, part 20, of 100",
      "trichogram-dystrophic: share, part 0, of 100",
      "hairline-distance-midline-cm: reading, value 7.5, realFrom 0.5",
      "hairline-distance-left-cm: reading, value 6, realFrom 0.5",
      "hairline-distance-right-cm: reading, value 6.2, realFrom 0.5",
    ]
  `);
});

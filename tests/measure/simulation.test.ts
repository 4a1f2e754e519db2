/** A small run of the simulation with a fixed seed: exact, so that any change of a method shows; `npm run simulate` is the large one. */
import { describe, expect, test } from "vitest";
import { coverage, falseCalls, type Rates } from "./simulation.js";

const ROUNDS = 100;
const BOTH = "units and spots";
const FIELDS = [1, 2, 3, 4];
const said = (runs: readonly Rates[], ids: readonly string[]) =>
  ids.map((id) => `${id}: ${runs.map((rates) => rates[id]?.toFixed(1)).join(" ")}`);

describe("hairs in units on spots that vary by a tenth, with 1, 2, 3 and 4 fields", () => {
  test("how often limits hold the truth", () => {
    const runs = FIELDS.map((fields) => coverage(fields, 60, BOTH, ROUNDS));
    expect(
      said(runs, [
        "hair-density",
        "yellow-dots-per-field",
        "ratio-density",
        "ratio-thin",
        "thin-share",
        "shaft-diameter",
        "shaft-diameter-cv",
        "refined-wash-test",
      ]),
    ).toMatchInlineSnapshot(`
      [
        "hair-density: 94.5 95.0 94.0 97.0",
        "yellow-dots-per-field: 97.5 94.5 94.5 97.0",
        "ratio-density: 93.0 98.0 96.0 98.0",
        "ratio-thin: 97.0 99.0 92.0 91.0",
        "thin-share: 96.5 93.5 98.0 94.5",
        "shaft-diameter: 94.5 97.5 95.0 96.5",
        "shaft-diameter-cv: 93.0 96.5 95.0 94.0",
        "refined-wash-test: 92.0 98.0 99.0 97.0",
      ]
    `);
  });

  test("how often change is called where there is none", () => {
    const runs = FIELDS.map((fields) => falseCalls(fields, 130, BOTH, ROUNDS));
    expect(
      said(runs, [
        "hair-density",
        "yellow-dots-per-field",
        "thin-share",
        "vellus-share",
        "diameter-vellus-like",
        "hair-pull",
        "shaft-diameter",
      ]),
    ).toMatchInlineSnapshot(`
      [
        "hair-density: 4.0 7.0 7.0 7.0",
        "yellow-dots-per-field: 4.0 5.0 1.0 4.0",
        "thin-share: 1.0 1.0 1.0 8.0",
        "vellus-share: 2.0 5.0 6.0 7.0",
        "diameter-vellus-like: 6.0 3.0 6.0 2.0",
        "hair-pull: 5.0 7.0 1.0 4.0",
        "shaft-diameter: 3.0 7.0 3.0 7.0",
      ]
    `);
  });
});

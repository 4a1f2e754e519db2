/** A small run of the simulation with a fixed seed: exact, so that any change of a method shows; `npm run simulate` is the large one. */
import { describe, expect, test } from "vitest";
import { coverage, falseCalls, type Rates } from "./simulation.js";

const ROUNDS = 300;
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
        "hair-density: 95.0 94.8 96.5 95.2",
        "yellow-dots-per-field: 96.5 95.0 97.0 98.0",
        "ratio-density: 95.7 98.3 96.7 95.7",
        "ratio-thin: 95.7 94.3 93.3 93.3",
        "thin-share: 95.3 95.0 94.8 93.3",
        "shaft-diameter: 95.2 96.7 95.5 95.3",
        "shaft-diameter-cv: 93.2 93.8 95.8 94.0",
        "refined-wash-test: 95.7 96.0 97.3 94.7",
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
        "hair-density: 7.0 6.0 7.7 4.3",
        "yellow-dots-per-field: 6.3 5.3 3.3 3.7",
        "thin-share: 4.7 5.3 5.0 4.7",
        "vellus-share: 6.0 4.3 4.0 3.3",
        "diameter-vellus-like: 7.0 2.7 5.7 4.3",
        "hair-pull: 4.7 7.3 4.7 4.7",
        "shaft-diameter: 5.3 4.3 4.3 7.7",
      ]
    `);
  });
});

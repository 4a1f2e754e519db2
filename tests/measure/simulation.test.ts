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
        "hair-density: 96.5 94.5 94.0 95.0",
        "yellow-dots-per-field: 96.0 97.0 97.5 94.5",
        "ratio-density: 98.0 99.0 94.0 90.0",
        "ratio-thin: 97.0 96.0 96.0 94.0",
        "thin-share: 97.0 94.0 98.5 96.5",
        "shaft-diameter: 94.5 96.0 95.0 95.5",
        "shaft-diameter-cv: 95.0 94.0 96.0 97.5",
        "refined-wash-test: 95.0 96.0 96.0 91.0",
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
        "hair-density: 6.0 6.0 3.0 7.0",
        "yellow-dots-per-field: 4.0 6.0 4.0 6.0",
        "thin-share: 0.0 3.0 4.0 5.0",
        "vellus-share: 0.0 2.0 1.0 4.0",
        "diameter-vellus-like: 4.0 6.0 3.0 8.0",
        "hair-pull: 2.0 4.0 2.0 5.0",
        "shaft-diameter: 6.0 4.0 2.0 1.0",
      ]
    `);
  });
});

/** `length_mm: 32mm`: the unit is in the key, so the value is figures alone. */
import type { ValueSlip } from "./slip.js";

/** Units people write, each with its factor to millimetres, weeks, or itself. */
const FACTORS: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  mm: { mm: 1, cm: 10, m: 1000, um: 0.001, µm: 0.001, μm: 0.001 },
  micrometres: { um: 1, µm: 1, μm: 1, micron: 1, microns: 1, mm: 1000, nm: 0.001 },
  weeks: {
    week: 1,
    weeks: 1,
    wk: 1,
    w: 1,
    wks: 1,
    day: 1 / 7,
    days: 1 / 7,
    d: 1 / 7,
    month: 4.35,
    months: 4.35,
    year: 52.2,
    years: 52.2,
    y: 52.2,
  },
  percent: { "%": 1, percent: 1, pc: 1 },
  times: { x: 1, "×": 1, fold: 1, "-fold": 1 },
  hairs: { hairs: 1, hair: 1 },
};

export const unitInValue: ValueSlip = {
  problem: "unit-in-value",
  examples: [
    {
      good: "    patch: { length_mm: 32, width_mm: 25 }",
      bad: "    patch: { length_mm: 32mm, width_mm: 25 }",
    },
    { good: "extent: { left: 5 }", bad: "extent: { left: 5% }" },
  ],
  notice({ want, written }) {
    if (want.kind !== "number" || written === undefined) return undefined;
    const times = /^\s*[x×]\s*(\d+(?:\.\d+)?)\s*$/iu.exec(written)?.[1];
    if (times !== undefined) {
      return {
        problem: "unit-in-value",
        message: "a times sign is written with the number",
        expected: "figures alone",
        suggestion: times,
      };
    }
    const match = /^\s*(\d+(?:\.\d+)?)\s*([\p{L}%×/-]{1,10}[\p{L}%²0-9]*)\s*$/u.exec(written);
    const figures = match?.[1];
    const unit = match?.[2];
    if (figures === undefined || unit === undefined || /^e\d/iu.test(unit)) return undefined;
    const factor = FACTORS[want.unit]?.[unit.toLowerCase()];
    const value = factor === undefined ? undefined : Number((Number(figures) * factor).toPrecision(3));
    return {
      problem: "unit-in-value",
      message: `the unit "${unit}" is written with the number`,
      expected: want.unit ? `figures alone, in ${want.unit}` : "figures alone",
      suggestion: String(value ?? figures),
    };
  },
};

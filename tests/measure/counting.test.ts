/** Intervals and tests against published values, to their printed digits, and against a general statistics package. */
import { pbinom, qbeta, qchisq, qt } from "lib-r-math.js";
import { describe, expect, test } from "vitest";
import { seededDraws } from "../../src/base/draws.js";
import { countLimits, fieldAreaCm2, rate } from "../../src/measure/statistics/counting.js";
import {
  logLimits,
  relativeVarianceOfCv,
  relativeVarianceOfMean,
  sdLimits,
  summarise,
  welch,
} from "../../src/measure/statistics/means.js";
import {
  clopperPearson,
  shareDifference,
  shareRatio,
  wilson,
} from "../../src/measure/statistics/proportions.js";
import { fieldsNeeded, rateRatio, smallestFall, tells } from "../../src/measure/statistics/two-counts.js";

const printed = (value: number, digits: number) => value.toFixed(digits);
const pair = ({ low, high }: { low: number; high: number }, digits: number) => [
  printed(low, digits),
  printed(high, digits),
];

describe("exact limits of a count (Garwood, Biometrika 1936;28:437-442)", () => {
  test("0 gives an upper limit of 3.689 and 10 gives 4.80 to 18.39, as restated in statistics manuals", () => {
    expect(pair(countLimits(0), 3)).toEqual(["0.000", "3.689"]);
    expect(pair(countLimits(10), 2)).toEqual(["4.80", "18.39"]);
  });

  test.each([
    [1, "0.0253", "5.5716"],
    [2, "0.2422", "7.2247"],
    [3, "0.6187", "8.7673"],
    [4, "1.0899", "10.2416"],
    [5, "1.6235", "11.6683"],
    [6, "2.2019", "13.0595"],
    [7, "2.8144", "14.4227"],
    [8, "3.4538", "15.7632"],
    [9, "4.1154", "17.0848"],
    [12, "6.2006", "20.9616"],
    [15, "8.3954", "24.7402"],
    [20, "12.2165", "30.8884"],
    [25, "16.1787", "36.9049"],
    [30, "20.2409", "42.8269"],
    [40, "28.5766", "54.4686"],
    [50, "37.1110", "65.9188"],
    [60, "45.7863", "77.2319"],
    [75, "58.9923", "94.0131"],
    [90, "72.3706", "110.6253"],
    [100, "81.3640", "121.6268"],
    [150, "126.9562", "176.0172"],
    [200, "173.2409", "229.7220"],
    [400, "361.7563", "441.1866"],
  ])("%i gives %s to %s", (n, low, high) => {
    expect(pair(countLimits(n), 4)).toEqual([low, high]);
  });

  test("agrees with R's quantiles from 1 to 3000", () => {
    for (const n of [1, 2, 3, 17, 64, 233, 999, 3000]) {
      const { low, high } = countLimits(n);
      expect(low).toBeCloseTo(qchisq(0.025, 2 * n) / 2, 6);
      expect(high).toBeCloseTo(qchisq(0.975, 2 * n + 2) / 2, 6);
    }
  });

  test("refuses what is not a count", () => {
    expect(() => countLimits(-1)).toThrow(RangeError);
    expect(() => countLimits(2.5)).toThrow(RangeError);
    expect(() => rate(4, 0)).toThrow(RangeError);
  });
});

describe("density in a known field (plain geometry)", () => {
  test.each([
    [2, "3.1416"],
    [3, "7.0686"],
    [4, "12.5664"],
    [5, "19.6350"],
    [10, "78.5398"],
    [14, "153.9380"],
    [20, "314.1593"],
  ])("a field %i mm across covers %s mm2", (d, area) => {
    expect(printed(fieldAreaCm2(d) * 100, 4)).toBe(area);
  });

  test.each([
    [40, fieldAreaCm2(5), "203.72", "145.54", "277.41"],
    [18, 0.09, "200.00", "118.53", "316.09"],
    [60, fieldAreaCm2(3, 4), "212.21", "161.94", "273.15"],
    [200, 1, "200.00", "173.24", "229.72"],
    [0, 0.09, "0.00", "0.00", "40.99"],
  ])("%i hairs in %d cm2", (n, area, value, low, high) => {
    const r = rate(n, area);
    expect([printed(r.value, 2), ...pair(r, 2)]).toEqual([value, low, high]);
  });
});

describe("one share (Newcombe, Stat Med 1998;17:857-872)", () => {
  test.each([
    [81, 263, ["0.2553", "0.3662"], ["0.2527", "0.3676"]],
    [15, 148, ["0.0624", "0.1605"], ["0.0578", "0.1617"]],
    [0, 20, ["0.0000", "0.1611"], ["0.0000", "0.1684"]],
    [1, 29, ["0.0061", "0.1718"], ["0.0009", "0.1776"]],
    [23, 60, ["0.2709", "0.5098"], ["0.2607", "0.5179"]],
  ])("%i of %i", (k, n, score, exact) => {
    expect(pair(wilson(k, n), 4)).toEqual(score);
    expect(pair(clopperPearson(k, n), 4)).toEqual(exact);
  });

  test("other shares: 10 of 100, 5 of 50, and split ends in trichotillomania, 73 of 127", () => {
    expect(pair(wilson(10, 100), 4)).toEqual(["0.0552", "0.1744"]);
    expect(pair(wilson(5, 50), 4)).toEqual(["0.0435", "0.2136"]);
    expect(pair({ low: 100 * wilson(73, 127).low, high: 100 * wilson(73, 127).high }, 1)).toEqual([
      "48.8",
      "65.7",
    ]);
  });

  test("ends are exact: no speck below 0 or above 1", () => {
    expect(wilson(0, 7).low).toBe(0);
    expect(wilson(7, 7).high).toBe(1);
    expect(clopperPearson(0, 7).low).toBe(0);
    expect(clopperPearson(7, 7).high).toBe(1);
  });

  test("exact limits agree with R's beta quantiles", () => {
    for (const [k, n] of [
      [1, 4],
      [3, 11],
      [40, 400],
      [499, 500],
      [700, 1900],
    ] as const) {
      expect(clopperPearson(k, n).low).toBeCloseTo(qbeta(0.025, k, n - k + 1), 7);
      expect(clopperPearson(k, n).high).toBeCloseTo(qbeta(0.975, k + 1, n - k), 7);
    }
  });
});

describe("accuracy of a test against culture (Dhaille et al., Br J Dermatol 2019)", () => {
  const percent = (k: number, n: number) =>
    pair({ low: 100 * wilson(k, n).low, high: 100 * wilson(k, n).high }, 1);
  test("Wilson limits of 50 of 53 and 39 of 47", () => {
    expect(percent(50, 53)).toEqual(["84.6", "98.1"]);
    expect(percent(39, 47)).toEqual(["69.9", "91.1"]);
  });
});

describe("two shares", () => {
  // Printed by Newcombe, Stat Med 1998;17:873-890, for the method of Miettinen and Nurminen, as a statistics library restates it.
  test.each([
    [56, 70, 48, 80, "0.0528", "0.3382"],
    [9, 10, 3, 10, "0.1700", "0.8406"],
    [10, 10, 0, 20, "0.7156", "1.0000"],
  ])("%i/%i less %i/%i", (k1, n1, k2, n2, low, high) => {
    expect(pair(shareDifference(k2, n2, k1, n1), 4)).toEqual([low, high]);
  });

  test("ratio of shares: 189 of 11034 against 104 of 11037 (recalled textbook example)", () => {
    const r = shareRatio(189, 11034, 104, 11037);
    expect(r && [printed(r.value, 2), ...pair(r, 2)]).toEqual(["1.82", "1.43", "2.31"]);
    expect(shareRatio(0, 10, 3, 10)).toBeUndefined();
  });
});

describe("two counts (Fay, Testing the Ratio of Two Poisson Rates)", () => {
  test("2 over 17877 against 9 over 16660, every printed digit", () => {
    const r = rateRatio(2, 17877, 9, 16660);
    expect(r?.ratio.toFixed(10)).toBe("0.2070941557");
    expect(r?.low.toFixed(8)).toBe("0.02177406");
    expect(r?.high.toFixed(8)).toBe("1.00054910");
    expect(r?.p.toFixed(5)).toBe("0.05011");
  });

  test.each([
    [11, 800, 21, 3011, "1.9715", ["0.8584", "4.2773"], "0.1120"],
    [60, 0.5, 80, 0.5, "0.7500", ["0.5275", "1.0614"], "0.1080"],
    [30, 9, 48, 9, "0.6250", ["0.3824", "1.0067"], "0.0535"],
    [100, 1, 100, 1, "1.0000", ["0.7503", "1.3329"], "1.0000"],
  ])("%i over %d against %i over %d", (x1, a1, x2, a2, ratio, limits, p) => {
    const r = rateRatio(x1, a1, x2, a2);
    expect(r && [printed(r.ratio, 4), pair(r, 4), printed(r.p, 4)]).toEqual([ratio, limits, p]);
  });

  test("p is below 0.05 exactly when the limits leave out 1", () => {
    for (let x1 = 0; x1 <= 30; x1++) {
      for (let x2 = 0; x2 <= 30; x2++) {
        const r = rateRatio(x1, 2, x2, 3);
        if (r) expect(r.p < 0.05, `${x1} ${x2}`).toBe(r.low > 1 || r.high < 1);
      }
    }
  });

  test("the p value agrees with R's binomial tails", () => {
    const tail = Math.min(pbinom(30, 78, 0.5), 1 - pbinom(29, 78, 0.5));
    expect(rateRatio(30, 9, 48, 9)?.p).toBeCloseTo(2 * Number(tail), 8);
  });

  test("the p value agrees with whole-number arithmetic, without rounding, up to thousands", () => {
    // The statistics package is itself off by up to 7e-6 here (it gives 0.49944 for one half), so exact sums decide.
    for (const [a, b] of [
      [1, 2],
      [108, 101],
      [300, 310],
      [1000, 1010],
      [2500, 2350],
    ] as const) {
      const n = a + b;
      let [term, low, high] = [1n, 0n, 0n];
      for (let i = 0; i <= n; i++) {
        if (i <= a) low += term;
        if (i >= a) high += term;
        term = (term * BigInt(n - i)) / BigInt(i + 1);
      }
      const tail = low < high ? low : high;
      const doubled = Number((2n * tail * 10n ** 15n) >> BigInt(n)) / 1e15;
      expect(rateRatio(a, 1, b, 1)?.p, `${a} ${b}`).toBeCloseTo(Math.min(1, doubled), 6);
    }
  });

  test("nothing counted at either visit has no ratio; nothing at the second has an open end", () => {
    expect(rateRatio(0, 1, 0, 1)).toBeUndefined();
    expect(rateRatio(4, 1, 0, 1)?.high).toBe(Number.POSITIVE_INFINITY);
  });

  test("a plan tells a change when its log is as many standard errors as test and power ask", () => {
    // For 100 then 63.1 the error of the log ratio is the root of 1/100 + 1/63.1; 1.96 + 0.8416 of it, 0.450, are asked.
    const plan = { perField: 25, fields: 4, times: 1 };
    expect(tells(plan, Math.exp(-0.46), 0.8)).toBe(true);
    expect(tells(plan, Math.exp(-0.44), 0.8)).toBe(false);
    expect(tells({ ...plan, times: 4 }, 0.5, 0.8)).toBe(false);
  });

  test("the smallest fall a plan shows is the first it tells", () => {
    const plan = { perField: 25, fields: 4, times: 1 };
    const percent = smallestFall(plan) ?? 0;
    expect(percent).toBe(37);
    expect(tells(plan, 1 - percent / 100)).toBe(true);
    expect(tells(plan, 1 - (percent - 1) / 100)).toBe(false);
    expect(smallestFall({ perField: 1, fields: 1, times: 1 })).toBeUndefined();
    expect(() => smallestFall({ perField: 0, fields: 1, times: 1 })).toThrow(RangeError);
  });

  test("fields needed are the first number that tells the change, at the spread that number has", () => {
    expect(fieldsNeeded(40, 0.75, () => 1)).toBe(6);
    expect(fieldsNeeded(40, 0.75, () => 2)).toBe(12);
    expect(fieldsNeeded(40, 0.75, (fields) => (fields < 9 ? 2 : 1))).toBe(9);
    expect(fieldsNeeded(40, 1, () => 1)).toBeUndefined();
    expect(fieldsNeeded(0, 0.5, () => 1)).toBeUndefined();
    expect(fieldsNeeded(1, 0.99, () => 1)).toBeUndefined();
  });
});

describe("limits on the log scale hold the truth about as often as they say", () => {
  const draws = seededDraws("coverage of log limits");
  const normal = () =>
    Math.sqrt(-2 * Math.log(1 - draws.uniform())) * Math.cos(2 * Math.PI * draws.uniform());
  const sample = (n: number, mean: number, sd: number) => {
    const summary = summarise(Array.from({ length: n }, () => mean + sd * normal()));
    if (!summary) throw new Error("empty");
    return summary;
  };
  const covered = (truth: number, draw: () => { low: number; high: number } | undefined) => {
    let hits = 0;
    for (let i = 0; i < 2000; i++) {
      const limits = draw();
      if (limits && limits.low <= truth && truth <= limits.high) hits++;
    }
    return hits / 2000;
  };

  test("coefficient of variation of forty shafts", () => {
    const share = covered(0.2, () => {
      const s = sample(40, 50, 10);
      return logLimits(s.sd / s.mean, relativeVarianceOfCv(s));
    });
    expect(share).toBeGreaterThan(0.92);
    expect(share).toBeLessThan(0.98);
  });

  test("ratio of two means of fifty shafts", () => {
    const share = covered(47 / 52, () => {
      const [a, b] = [sample(50, 47, 12), sample(50, 52, 12)];
      return logLimits(a.mean / b.mean, relativeVarianceOfMean(a) + relativeVarianceOfMean(b));
    });
    expect(share).toBeGreaterThan(0.92);
    expect(share).toBeLessThan(0.98);
  });

  test("standard deviation by chi-square", () => {
    const share = covered(10, () => sdLimits(sample(12, 50, 10)));
    expect(share).toBeGreaterThan(0.92);
    expect(share).toBeLessThan(0.98);
  });
});

describe("two means", () => {
  test("fuel economy of two groups of cars (NIST/SEMATECH handbook 1.3.5.3)", () => {
    const w = welch({ mean: 30.48101, sd: 6.10771, n: 79 }, { mean: 20.14458, sd: 6.4147, n: 249 });
    expect(w?.t.toFixed(3)).toBe("-12.946");
    expect(w?.df.toFixed(2)).toBe("136.87");
    expect((w?.p ?? 0) / 2).toBeCloseTo(7.855e-26, 28);
    expect(w && pair(w, 4)).toEqual(["-11.9152", "-8.7576"]);
  });

  test("frontal thickness, pattern loss against healthy (group means of Rakowska, Int J Trichology 2009;1:123-130)", () => {
    const w = welch({ mean: 0.061, sd: 0.008, n: 39 }, { mean: 0.047, sd: 0.007, n: 59 });
    expect(w && [w.t.toFixed(4), w.df.toFixed(2), ...pair(w, 5)]).toEqual([
      "-8.9052",
      "73.81",
      "-0.01713",
      "-0.01087",
    ]);
    expect(w?.p.toExponential(3)).toBe("2.565e-13");
  });

  test("thin-hair percent, pattern loss against telogen effluvium (same source)", () => {
    const w = welch({ mean: 10.4, sd: 3.9, n: 33 }, { mean: 20.9, sd: 12, n: 59 });
    expect(w && [w.t.toFixed(4), w.df.toFixed(2), ...pair(w, 3)]).toEqual([
      "6.1641",
      "77.00",
      "7.108",
      "13.892",
    ]);
    expect(w?.p.toExponential(2)).toBe("3.03e-8");
  });

  test("t quantiles agree with R", () => {
    const s = summarise([61, 58, 44]);
    expect(s?.mean).toBeCloseTo(54.3333, 4);
    const w = welch({ mean: 0, sd: 1, n: 5 }, { mean: 0, sd: 1, n: 5 });
    expect(w?.high).toBeCloseTo(qt(0.975, 8) * Math.sqrt(0.4), 7);
    expect(welch({ mean: 1, sd: 0, n: 4 }, { mean: 1, sd: 0, n: 4 })).toBeUndefined();
  });
});

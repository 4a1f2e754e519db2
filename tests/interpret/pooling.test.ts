import * as R from "lib-r-math.js";
import { describe, expect, it } from "vitest";
import { betaBinomialMoments, betaFromInterval, pool } from "../../src/interpret/pooling.js";

const PRIOR = { before: 0.5, usual: 0.12, floor: 0.03 };

/**
 * Tumours in 70 control groups of rats (Tarone, Biometrics 1982;38:215-220), the worked example of Gelman et al., Bayesian Data
 * Analysis, chapter 5: mean 0.136 and standard deviation 0.103 over groups; maximum likelihood Beta(2.304768, 14.079707) as
 * printed in the CRAN vignette of BayesGOF.
 */
const TUMOURS = [
  0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2, 2, 2, 2, 1, 5, 2, 5, 3,
  2, 7, 7, 3, 3, 2, 9, 10, 4, 4, 4, 4, 4, 4, 4, 10, 4, 4, 4, 5, 11, 12, 5, 5, 6, 5, 6, 6, 6, 6, 16, 15, 15, 9,
];
const RATS = [
  20, 20, 20, 20, 20, 20, 20, 19, 19, 19, 19, 18, 18, 17, 20, 20, 20, 20, 19, 19, 18, 18, 25, 24, 23, 20, 20,
  20, 20, 20, 20, 10, 49, 19, 46, 27, 17, 49, 47, 20, 20, 13, 48, 50, 20, 20, 20, 20, 20, 20, 20, 48, 19, 19,
  19, 22, 46, 49, 20, 20, 23, 19, 22, 20, 20, 20, 52, 46, 47, 24,
];
const studies = TUMOURS.map((y, i) => ({ share: y / (RATS[i] ?? 1), patients: RATS[i] ?? 1 }));

/** Beta-binomial log likelihood by the statistics package, without the constant terms. */
function likelihood(a: number, b: number): number {
  return TUMOURS.reduce((sum, y, i) => sum + R.lbeta(y + a, (RATS[i] ?? 0) - y + b) - R.lbeta(a, b), 0);
}

describe("pooling of studies", () => {
  it("works the published example: its raw mean and spread over groups", () => {
    const raw = studies.map((s) => s.share);
    const mean = raw.reduce((x, y) => x + y, 0) / raw.length;
    const sd = Math.sqrt(raw.reduce((sum, x) => sum + (x - mean) ** 2, 0) / (raw.length - 1));
    expect(mean).toBeCloseTo(0.136, 3);
    expect(sd).toBeCloseTo(0.103, 3);
  });

  it("lands near the published maximum likelihood, checked with a statistics package", () => {
    const { mean, spread } = betaBinomialMoments(studies);
    const published = { a: 2.304768, b: 14.079707 };
    // The printed maximum is the maximum of our likelihood too: the data are the same.
    for (const [a, b] of [
      [2.2, 14.1],
      [2.4, 14.1],
      [2.3, 13.2],
      [2.3, 15],
    ] as const) {
      expect(likelihood(published.a, published.b)).toBeGreaterThan(likelihood(a, b));
    }
    expect(mean).toBeCloseTo(published.a / (published.a + published.b), 2);
    // Moments lose little against maximum likelihood: within two units of log likelihood (the 95 % region is three).
    const strength = 1 / spread - 1;
    expect(
      likelihood(published.a, published.b) - likelihood(mean * strength, (1 - mean) * strength),
    ).toBeLessThan(2);
  });

  it("recovers a known Beta from drawn studies", () => {
    R.setSeed(20);
    const shares = R.rbeta(400, 3, 5) as Float32Array;
    const drawn = Array.from(shares, (p) => ({ share: Number(R.rbinom(1, 50, p)) / 50, patients: 50 }));
    const { mean, spread } = betaBinomialMoments(drawn);
    expect(mean).toBeCloseTo(3 / 8, 1);
    expect(spread).toBeGreaterThan(1 / 9 - 0.03);
    expect(spread).toBeLessThan(1 / 9 + 0.03);
  });

  it("does not add studies up as if they were one: disagreement makes the Beta flat", () => {
    const yellowDots = pool(
      [
        { share: 0, patients: 40 },
        { share: 1, patients: 66 },
      ],
      PRIOR,
    );
    expect(yellowDots.mean).toBeCloseTo(0.5, 1);
    expect(yellowDots.a + yellowDots.b).toBeLessThan(1);
    const agreed = pool(
      [
        { share: 0.5, patients: 40 },
        { share: 0.52, patients: 66 },
        { share: 0.49, patients: 50 },
      ],
      PRIOR,
    );
    expect(agreed.a + agreed.b).toBeGreaterThan(15);
  });

  it("takes the usual spread where one or two studies cannot show any", () => {
    const one = pool([{ share: 0.3, patients: 2000 }], PRIOR);
    expect(one.spread).toBe(PRIOR.usual);
    expect(one.a + one.b).toBeLessThan(1 / PRIOR.usual);
  });

  it("never gives 0 or 1, however uniform the studies", () => {
    const all = pool(
      Array.from({ length: 6 }, () => ({ share: 1, patients: 200 })),
      PRIOR,
    );
    expect(all.mean).toBeLessThan(1);
    expect(all.b).toBeGreaterThan(0);
    const none = pool([{ share: 0, patients: 7 }], PRIOR);
    expect(none.mean).toBeGreaterThan(0);
  });

  it("starts from what was expected before any study", () => {
    const rare = pool([{ share: 0, patients: 52 }], { ...PRIOR, before: 0.01 });
    expect(rare.mean).toBeLessThan(0.01);
    expect(rare.mean).toBeGreaterThan(0);
  });

  it("turns our own interval into a Beta that reaches its ends", () => {
    const { a, b } = betaFromInterval(0.05, 0.4, 1000);
    expect(a / (a + b)).toBeCloseTo(0.225, 6);
    // 0.225 x 0.775 / 0.0875 squared, less one.
    expect(a + b).toBeCloseTo(21.77551, 5);
    expect(R.qbeta(0.975, a, b)).toBeCloseTo(0.4, 1);
    expect(R.qbeta(0.025, a, b)).toBeCloseTo(0.05, 1);
    const capped = betaFromInterval(0, 0.02, 20);
    expect(capped.a + capped.b).toBeCloseTo(20, 6);
  });
});

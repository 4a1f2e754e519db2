/**
 * Several studies' shares -> one Beta distribution for the share to expect in a further clinic.
 *
 * Studies of one sign disagree far beyond chance (yellow dots in pattern hair loss: 0 of 40 and 66 of 66), so their counts are
 * not added up. The studies are taken as draws from a Beta distribution whose mean and spread are found by weighted moments
 * (Kleinman 1973; for pooled event rates Young-Xu and Chan, BMC Med Res Methodol 2008;8:58). Where studies disagree the Beta is wide, and the sign weighs little by itself.
 */

/** One study: share of patients with the sign, and how many patients it counts for. */
export interface StudyShare {
  readonly share: number;
  readonly patients: number;
  /** How many studies it stands for when spread is judged: 0.5 for half of one, more for a review; 1 when left out. */
  readonly studies?: number;
}

export interface BetaShape {
  readonly a: number;
  readonly b: number;
}

export interface Pooled extends BetaShape {
  readonly mean: number;
  /** Correlation between patients of one study: 0 when studies agree up to chance, 1 when they share nothing. */
  readonly spread: number;
}

export interface PoolPrior {
  /** Share expected before any study. */
  readonly before: number;
  /** Spread taken as it stands for fewer than three studies, which cannot show how much studies differ. */
  readonly usual: number;
  readonly floor: number;
}

/** What was expected before any study counts for half a patient, which also keeps the mean off 0 and 1. */
const BEFORE_PATIENTS = 0.5;

/**
 * Weighted moments of Kleinman (J Am Stat Assoc 1973;68:46-54): weights n / (1 + spread (n - 1)), found by iteration from
 * plain patient numbers. Returns mean and spread, spread cut off to [0, 0.95].
 */
export function betaBinomialMoments(studies: readonly StudyShare[]): { mean: number; spread: number } {
  let spread = 0;
  let mean = 0;
  for (let round = 0; round < 50; round++) {
    const weights = studies.map((s) => s.patients / (1 + spread * (s.patients - 1)));
    const total = sum(weights);
    mean = sum(studies.map((s, i) => (weights[i] ?? 0) * s.share)) / total;
    const scatter = sum(studies.map((s, i) => (weights[i] ?? 0) * (s.share - mean) ** 2));
    // Expected scatter is p(1-p) times (chance part + spread times the rest), each summed over studies.
    const spare = weights.map((w) => w * (1 - w / total));
    const chance = sum(studies.map((s, i) => (spare[i] ?? 0) / s.patients));
    const rest = sum(studies.map((s, i) => (spare[i] ?? 0) * (1 - 1 / s.patients)));
    const expected = mean * (1 - mean);
    const next =
      expected <= 0 || rest <= 0 ? 0 : Math.min(0.95, Math.max(0, (scatter / expected - chance) / rest));
    if (Math.abs(next - spread) < 1e-9) {
      spread = next;
      break;
    }
    spread = next;
  }
  return { mean, spread };
}

/**
 * Beta for the share in a further clinic: the pooled mean, with the spread between studies plus the uncertainty of the mean
 * itself. Needs at least one study; patient numbers may be fractions (weakened rows).
 */
export function pool(studies: readonly StudyShare[], prior: PoolPrior): Pooled {
  const found = betaBinomialMoments(studies);
  const shows = sum(studies.map((s) => s.studies ?? 1)) >= 3;
  const shown = shows ? found.spread : Math.max(found.spread, prior.usual);
  const spread = Math.max(shown, prior.floor);
  const weight = sum(studies.map((s) => s.patients / (1 + spread * Math.max(0, s.patients - 1))));
  const mean = (found.mean * weight + prior.before * BEFORE_PATIENTS) / (weight + BEFORE_PATIENTS);
  // Variance over clinics, and of the mean, both in units of mean (1 - mean).
  const relative = Math.min(0.9, spread + (1 - spread) / (weight + 1));
  const strength = 1 / relative - 1;
  return { a: mean * strength, b: (1 - mean) * strength, mean, spread };
}

/** Beta whose mean is the middle of the interval and whose two standard deviations reach its ends. */
export function betaFromInterval(low: number, high: number, mostPatients: number): BetaShape {
  const mean = (low + high) / 2;
  const sd = Math.max((high - low) / 4, 1e-4);
  const strength = Math.min(mostPatients, Math.max(0.5, (mean * (1 - mean)) / sd ** 2 - 1));
  return { a: mean * strength, b: (1 - mean) * strength };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, v) => total + v, 0);
}

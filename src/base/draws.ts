/** A small seeded generator (mulberry32), so that sampling gives the same result on every machine. */

export interface Draws {
  /** Uniform in [0, 1). */
  uniform(): number;
}

/** `seed` is any text; equal seeds give equal draws. */
export function seededDraws(seed: string): Draws {
  let state = stateOf(seed);
  return {
    uniform() {
      state = (state + STEP) | 0;
      return mixed(state) / ALL;
    },
  };
}

/** Fisher and Yates' shuffle, where the values stand: as with `seededDraws(seed)`, and without a call for each of them. */
export function shuffle(values: Float32Array, seed: string): void {
  let state = stateOf(seed);
  for (let i = values.length - 1; i > 0; i--) {
    state = (state + STEP) | 0;
    const j = Math.floor((mixed(state) / ALL) * (i + 1));
    const value = values[i] as number;
    values[i] = values[j] as number;
    values[j] = value;
  }
}

const STEP = 0x6d2b79f5;
const ALL = 4294967296;

function stateOf(seed: string): number {
  let state = 2166136261;
  for (const ch of seed) {
    state = Math.imul(state ^ (ch.codePointAt(0) ?? 0), 16777619);
  }
  return state;
}

function mixed(state: number): number {
  let t = Math.imul(state ^ (state >>> 15), 1 | state);
  t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
  return (t ^ (t >>> 14)) >>> 0;
}

/** A small seeded generator (mulberry32), so that sampling gives the same result on every machine. */

export interface Draws {
  /** Uniform in [0, 1). */
  uniform(): number;
}

/** `seed` is any text; equal seeds give equal draws. */
export function seededDraws(seed: string): Draws {
  let state = 2166136261;
  for (const ch of seed) {
    state = Math.imul(state ^ (ch.codePointAt(0) ?? 0), 16777619);
  }
  return {
    uniform() {
      state = (state + 0x6d2b79f5) | 0;
      let t = Math.imul(state ^ (state >>> 15), 1 | state);
      t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
      return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
    },
  };
}

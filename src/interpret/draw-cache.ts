/**
 * Draws that no visit changes: of a finding's weight in each disorder, and of how far our own weights are off. They are made on
 * first use and kept. Each set holds the equally likely values of its distribution in a shuffled order of its own, so that no
 * disorder is favoured by chance (Latin hypercube sampling: McKay, Technometrics 1979;21:239-245). The seed of the order is the
 * name of what is drawn, so that it does not matter which visits came before, nor what was kept or dropped meanwhile.
 */
import { shuffle } from "../base/draws.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Cell, CellRow } from "./cells.js";
import { betaQuantiles, normalQuantiles } from "./quantiles.js";

/** Draws behind every standing. */
export const DRAWS = 500;

/** About 14 kB each; seventy very different patients use some 350. */
const MOST_ROWS = 400;
/** 2 kB each; the knowledge has some 350 rules and disorders. */
const MOST_NORMALS = 600;

const rows = new Map<CellRow, readonly Float32Array[]>();
const normals = new Map<string, Float32Array>();
let normal: Float32Array | undefined;

/** For each disorder, `DRAWS` draws of what a finding weighs in it, before amount and share. */
export function weightDraws(row: CellRow, knowledge: Knowledge): readonly Float32Array[] {
  return kept(rows, MOST_ROWS, row, () => drawRow(row, knowledge));
}

/** `DRAWS` standard normal draws of their own for each name. */
export function normalsNamed(name: string): Float32Array {
  normal ??= Float32Array.from(normalQuantiles(DRAWS));
  const values = normal;
  return kept(normals, MOST_NORMALS, name, () => {
    const mixed = values.slice();
    shuffle(mixed, name);
    return mixed;
  });
}

function drawRow(row: CellRow, knowledge: Knowledge): Float32Array[] {
  // Cells without a study share one interval and so one set of draws, which each reads from a place of its own: no two disorders
  // get the same draw at once. The set stands there twice, so that any place has all of it ahead.
  const step = Math.max(1, Math.floor(DRAWS / row.cells.length));
  let unstudied: Float32Array | undefined;
  return row.cells.map((cell, d) => {
    if (!cell.byDefault) return drawCell(`${row.id}/${row.disorders[d]}`, cell, row, knowledge);
    if (!unstudied) {
      const once = drawCell(row.id, cell, row, knowledge);
      unstudied = new Float32Array(2 * DRAWS);
      unstudied.set(once);
      unstudied.set(once, DRAWS);
    }
    const from = (d * step) % DRAWS;
    return unstudied.subarray(from, from + DRAWS);
  });
}

/** As `pulled` and `logRatio` have it for each value, with what is the same for all worked out once. */
function drawCell(seed: string, { a, b }: Cell, row: CellRow, knowledge: Knowledge): Float32Array {
  const shares = betaQuantiles(a, b, DRAWS);
  const { reading, average } = row;
  const { pull_patients: pull, frequency_limits: limits } = knowledge.weighing;
  const [least, most] = limits;
  const usual = Math.min(most, Math.max(least, average));
  const [patients, towards] = [a + b, pull * average];
  const isPresent = reading === "present";
  const weights = new Float32Array(DRAWS);
  for (let i = 0; i < DRAWS; i++) {
    const share = (shares[i] as number) * patients;
    const p = Math.min(most, Math.max(least, (share + towards) / (patients + pull)));
    weights[i] = isPresent ? Math.log(p / usual) : Math.log((1 - p) / (1 - usual));
  }
  shuffle(weights, seed);
  return weights;
}

/** What `store` keeps for the key, or else makes; the one unused longest goes when the store is full. */
function kept<K, V>(store: Map<K, V>, most: number, key: K, make: () => V): V {
  const value = store.get(key) ?? make();
  store.delete(key);
  store.set(key, value);
  if (store.size > most) {
    const [oldest] = store.keys();
    if (oldest !== undefined) store.delete(oldest);
  }
  return value;
}

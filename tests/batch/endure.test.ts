/** A few of the kills that `npm run endure` does by the thousand. */
import { beforeAll, describe, expect, it } from "vitest";
import { seededDraws } from "../../src/base/draws.js";
import { LONG } from "../runs.js";
import { scratch } from "./command.js";
import { type Chain, endure } from "./endure-chain.js";
import { makeScenes, type Scene } from "./endure-scenes.js";

const KILLS = Number(process.env.WHORL_KILLS ?? 3);
let scenes: readonly Scene[] = [];

/** Visits changed since the last run: documents to keep, to withdraw, to set aside and to make anew, and a print run. */
beforeAll(() => {
  scenes = makeScenes(scratch(), [...(LONG ? ["changed visits"] : []), "first run beside a register"]);
});

async function killed(name: string, seed: string): Promise<Chain[]> {
  const scene = scenes.find((one) => one.name === name);
  if (!scene) throw new Error("no such situation");
  const draws = seededDraws(seed);
  const chains: Chain[] = [];
  for (let left = KILLS; left > 0; left -= chains.at(-1)?.kills.length ?? left)
    chains.push(await endure(scene, draws, left));
  return chains;
}

describe("a run that dies", () => {
  it.runIf(LONG)(
    "killed again and again loses nothing, leaves nothing half-written and makes nothing twice",
    async () => {
      const chains = await killed("changed visits", "kills-141");
      expect(chains.flatMap((chain) => chain.faults)).toEqual([]);
      const kills = chains.flatMap((chain) => chain.kills);
      expect(kills).toHaveLength(KILLS);
      // Not all before anything was done.
      expect(chains.reduce((sum, chain) => sum + chain.kept, 0)).toBeGreaterThan(3);
    },
  );

  it("registers nothing twice, and prints nothing that the register does not know", async () => {
    const chains = await killed("first run beside a register", "kills-5");
    expect(chains.flatMap((chain) => chain.faults)).toEqual([]);
    expect(chains.flatMap((chain) => chain.kills)).toHaveLength(KILLS);
  });
});

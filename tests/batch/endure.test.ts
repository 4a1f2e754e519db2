/** A few of the kills that `npm run endure` does by the thousand. */
import { beforeAll, describe, expect, it } from "vitest";
import { seededDraws } from "../../src/base/draws.js";
import { ensureBuilt, scratch } from "./command.js";
import { type Chain, endure } from "./endure-chain.js";
import { makeScenes, type Scene } from "./endure-scenes.js";

const KILLS = 25;

/** Chains until there are so many kills. */
async function killed(scene: Scene, seed: string, kills: number): Promise<Chain[]> {
  const draws = seededDraws(seed);
  const chains: Chain[] = [];
  for (let left = kills; left > 0; ) {
    const chain = await endure(scene, draws, left);
    chains.push(chain);
    left -= chain.kills.length;
  }
  return chains;
}

let scenes: readonly Scene[];

beforeAll(async () => {
  await ensureBuilt();
  scenes = makeScenes(scratch(), ["first run", "changed visits"]);
}, 400_000);

describe("a run that dies", () => {
  it("killed again and again loses nothing, leaves nothing half-written and makes nothing twice", async () => {
    const chains = (
      await Promise.all(scenes.map((scene, i) => killed(scene, scene.name, Math.floor((KILLS + i) / 2))))
    ).flat();
    expect(chains.flatMap((chain) => chain.faults)).toEqual([]);
    const kills = chains.flatMap((chain) => chain.kills);
    expect(kills).toHaveLength(KILLS);
    // Not all before anything was done.
    expect(new Set(kills.map((kill) => kill.phase)).size).toBeGreaterThan(2);
    expect(chains.reduce((sum, chain) => sum + chain.kept, 0)).toBeGreaterThan(10);
  }, 400_000);
});

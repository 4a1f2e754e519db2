/** A few of the kills that `npm run endure` does by the thousand. */
import { beforeAll, describe, expect, it } from "vitest";
import { seededDraws } from "../../src/base/draws.js";
import { scratch } from "./command.js";
import { type Chain, endure } from "./endure-chain.js";
import { makeScenes, type Scene } from "./endure-scenes.js";

const KILLS = Number(process.env.WHORL_KILLS ?? 7);
let scene: Scene | undefined;

/** Visits changed since the last run: documents to keep, to withdraw, to set aside and to make anew, and a print run. */
beforeAll(() => {
  [scene] = makeScenes(scratch(), ["changed visits"]);
});

describe("a run that dies", () => {
  it("killed again and again loses nothing, leaves nothing half-written and makes nothing twice", async () => {
    if (!scene) throw new Error("no such situation");
    const draws = seededDraws("twelve");
    const chains: Chain[] = [];
    for (let left = KILLS; left > 0; left -= chains.at(-1)?.kills.length ?? left)
      chains.push(await endure(scene, draws, left));
    expect(chains.flatMap((chain) => chain.faults)).toEqual([]);
    const kills = chains.flatMap((chain) => chain.kills);
    expect(kills).toHaveLength(KILLS);
    // Not all before anything was done.
    expect(new Set(kills.map((kill) => kill.phase)).size).toBeGreaterThan(2);
    expect(chains.reduce((sum, chain) => sum + chain.kept, 0)).toBeGreaterThan(5);
  });
});

/**
 * `npm run endure -- [KILLS] [SEED]`: kills the real command at drawn moments, in every situation in turn, and says whether
 * anything was lost, half-written or made twice. Ends with 1 when it was.
 */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { seededDraws } from "../../src/base/draws.js";
import { endure, type Kill } from "./endure-chain.js";
import { makeScenes } from "./endure-scenes.js";

const wanted = Number(process.argv[2] ?? 1000);
const seed = process.argv[3] ?? "whorl";
if (!Number.isInteger(wanted) || wanted < 1) throw new Error("how many kills?");

const folder = mkdtempSync(join(tmpdir(), "whorl-endure-"));
const draws = seededDraws(seed);
const counts = { left: 0, underWay: 0, kept: 0, chains: 0 };
const kills: (Kill & { scene: string })[] = [];
const faults: string[] = [];
process.stdout.write(`seed ${seed}\n`);
try {
  const scenes = makeScenes(folder);
  for (const { name, milliseconds } of scenes)
    process.stdout.write(`${name}: ${(milliseconds / 1000).toFixed(1)} s\n`);
  while (kills.length < wanted) {
    const scene = scenes[counts.chains % scenes.length];
    if (!scene) break;
    const most = Math.min(wanted - kills.length, 3 + Math.floor(draws.uniform() * 18));
    const chain = await endure(scene, draws, most);
    counts.chains += 1;
    counts.kept += chain.kept;
    for (const kill of chain.kills) {
      kills.push({ ...kill, scene: scene.name });
      counts.left += kill.left;
      counts.underWay += kill.underWay;
    }
    for (const fault of chain.faults) {
      faults.push(`${scene.name}, chain ${counts.chains}, ${fault}`);
      process.stdout.write(`${faults.at(-1)}\n`);
    }
    process.stdout.write(`${kills.length} kills, ${faults.length} faults: ${scene.name}\n`);
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}

const tally = (of: (kill: Kill & { scene: string }) => string) => {
  const found = new Map<string, number>();
  for (const kill of kills) found.set(of(kill), (found.get(of(kill)) ?? 0) + 1);
  return [...found].sort((a, b) => b[1] - a[1]).map(([name, n]) => `${name} ${n}`);
};
process.stdout.write(
  [
    `${kills.length} kills in ${counts.chains} chains, ${faults.length} faults`,
    `situations: ${tally((k) => k.scene).join(", ")}`,
    `reached: ${tally((k) => k.phase).join(", ")}`,
    `chosen: ${tally((k) => (k.moment.startsWith("after") ? "by time" : "by event")).join(", ")}`,
    `temporary files left by kills, all cleared: ${counts.left}`,
    `whole documents that no journal line vouched for at a kill: ${counts.underWay}`,
    `documents vouched for and never made again: ${counts.kept}`,
    "",
  ].join("\n"),
);
process.exitCode = faults.length > 0 ? 1 : 0;

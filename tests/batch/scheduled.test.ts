/** The worked example for a scheduler, run by it: several processes, one folder, everything killed, then resumed. */
import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { LONG } from "../runs.js";
import { ended, manifestOf, scratch, whorl } from "./command.js";
import { generateVisits } from "./generate-visits.js";

const PARTS = 2;
const VISITS = LONG ? 10 : 4;

/** In a group of its own, so that all of it can be killed at once. */
function make(visits: string, out: string): ChildProcess {
  const command = `${process.execPath} ${inPackage("bin", "whorl.js")}`;
  return spawn(
    "make",
    [
      "-f",
      inPackage("examples", "week.mk"),
      `-j${PARTS}`,
      `PARTS=${PARTS}`,
      `VISITS=${visits}`,
      `OUT=${out}`,
    ].concat(`WHORL=${command}`),
    { detached: true, stdio: ["ignore", "ignore", "inherit"] },
  );
}

/** Lines in the journals of all parts. */
function journalled(out: string): number {
  const parts = existsSync(out) ? readdirSync(out).filter((name) => name.startsWith("shard-")) : [];
  return parts
    .map((part) => join(out, part, ".whorl", "journal.jsonl"))
    .filter(existsSync)
    .reduce((sum, file) => sum + readFileSync(file, "utf8").split("\n").length - 1, 0);
}

/** Kills everything once there are so many lines more than before; false when it ended first. */
async function killedAfter(run: ChildProcess, out: string, more: number): Promise<boolean> {
  const before = journalled(out);
  while (run.exitCode === null && journalled(out) < before + more)
    await new Promise((resolve) => setTimeout(resolve, 20));
  if (run.exitCode !== null || run.pid === undefined) return false;
  process.kill(-run.pid, "SIGKILL");
  await ended(run);
  return true;
}

const hasMake = spawnSync("make", ["--version"]).status === 0;

it.skipIf(!hasMake)(
  "parts that were killed are resumed and joined into what one run makes",
  async () => {
    const visits = generateVisits(scratch(), VISITS).folder;
    const out = join(scratch(), "letters");
    for (let kill = 0; kill < (LONG ? 2 : 1); kill++) {
      const before = journalled(out);
      expect(await killedAfter(make(visits, out), out, LONG ? 2 : 1)).toBe(true);
      expect(journalled(out)).toBeGreaterThan(before);
      expect(existsSync(join(out, "week.pdf"))).toBe(false);
    }
    expect(await ended(make(visits, out))).toBe(0);
    expect(existsSync(join(out, "week.pdf"))).toBe(true);
    const whole = join(scratch(), "letters");
    whorl("batch", visits, "--out", whole);
    const essence = (folder: string) =>
      manifestOf(folder).documents.map(({ visit, place, sha256, state }) =>
        [visit, place, sha256, state].join(),
      );
    expect(essence(out)).toEqual(essence(whole));
    expect(essence(out).length).toBeGreaterThan(VISITS);
    expect(whorl("proof", out).code).toBe(0);
  },
  400_000,
);

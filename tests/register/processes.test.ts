import { type ChildProcess, execFileSync, spawn } from "node:child_process";
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { sha256 } from "../../src/base/sha256.js";
import { appendToRegister } from "../../src/register/append.js";
import { keptHashes } from "../../src/register/kept.js";
import { readRegister } from "../../src/register/read.js";
import { recordMade } from "../../src/register/record.js";
import { scratch } from "../batch/command.js";
import { smallDisk } from "../batch/small-disk.js";
import { LONG } from "../runs.js";
import { madeEntry } from "./entries.js";

const module = pathToFileURL(inPackage("dist", "register", "append.js")).href;
/** Adds lines until it is killed or has added so many; says each once it is on disk. */
const WRITER = `
  const { appendToRegister } = await import(process.argv[1]);
  const [folder, name, count, entry] = process.argv.slice(2);
  for (let i = 1; i <= Number(count); i += 1) {
    appendToRegister(folder, [{ ...JSON.parse(entry), visit: name + "-" + i }]);
    process.stdout.write(name + "-" + i + "\\n");
  }`;

function writer(
  folder: string,
  name: string,
  count: number,
): { child: ChildProcess; said: Promise<string[]> } {
  const child = spawn(process.execPath, [
    "--input-type=module",
    "-e",
    WRITER,
    module,
    folder,
    name,
    String(count),
    JSON.stringify(madeEntry("")),
  ]);
  let out = "";
  child.stdout?.on("data", (piece: Buffer) => {
    out += piece.toString();
  });
  const said = new Promise<string[]>((resolve) => {
    child.once("close", () => resolve(out.split("\n").slice(0, -1)));
  });
  return { child, said };
}

const visitsIn = (folder: string) =>
  readRegister(folder).lines.flatMap((line) => (line.kind === "made" ? [line.visit] : []));

describe("programs on one folder", () => {
  it("write at once, and no line is lost, torn or told twice", async () => {
    const folder = join(scratch(), "shared");
    const writers = ["a", "b", "c", "d"].map((name) => writer(folder, name, 25));
    const said = (await Promise.all(writers.map((one) => one.said))).flat();
    expect(said).toHaveLength(100);
    expect(visitsIn(folder).sort()).toEqual(said.sort());
    expect(readRegister(folder).problems).toEqual([]);
    const a = visitsIn(folder).filter((visit) => visit.startsWith("a-"));
    expect(a).toEqual(Array.from({ length: 25 }, (_, i) => `a-${i + 1}`));
  });

  it("are killed, and every line that was said to be written stands in a chain that holds", async () => {
    const folder = join(scratch(), "killed");
    const said: string[] = [];
    for (let round = 0; round < (LONG ? 4 : 2); round += 1) {
      const writers = [writer(folder, `k${round}`, 1000), writer(folder, `m${round}`, 1000)];
      // Both are at work when they are killed, at another moment of it each time.
      await Promise.all(writers.map(({ child }) => new Promise((at) => child.stdout?.once("data", at))));
      await new Promise((resolve) => setTimeout(resolve, 34 * round));
      for (const { child } of writers) child.kill("SIGKILL");
      said.push(...(await Promise.all(writers.map((one) => one.said))).flat());
      const { problems } = readRegister(folder);
      expect(problems.filter(({ severity }) => severity === "error")).toEqual([]);
      expect(visitsIn(folder)).toEqual(expect.arrayContaining(said));
    }
    expect(said.length).toBeGreaterThan(8);
    appendToRegister(folder, [madeEntry("after")]);
    expect(visitsIn(folder).at(-1)).toBe("after");
  });
});

const { disk, canMount } = smallDisk("1m");

describe.runIf(canMount)("a full disk (left out where no disk can be mounted: it takes root)", () => {
  it("leaves the register as it was, says so, and takes the lines when there is room again", () => {
    const folder = join(disk, "clinic");
    const bytes = Buffer.alloc(200_000, "x");
    const made = (n: number) => ({
      signed: {
        visit: `V-${n}`,
        patient: "TS-1",
        edition: 1,
        date: "2026-03-12",
        dated: "2026-03-12",
        by: "anneli-thorsby",
        signedAt: "",
        seal: "1-x",
        reason: "",
      },
      text: () => Buffer.from(`visit ${n}`),
      documents: [
        {
          document: "referral-letter",
          addressee: null,
          name: `V-${n}.pdf`,
          pages: 1,
          sha256: sha256(Buffer.concat([bytes, Buffer.from([n])])),
          bytes: () => Buffer.concat([bytes, Buffer.from([n])]),
        },
      ],
    });
    let full = 0;
    for (let n = 1; n <= 8 && full === 0; n += 1)
      try {
        recordMade(folder, [made(n)], { how: "letter" });
      } catch (error) {
        expect(error).toMatchObject({ code: "ENOSPC" });
        full = n;
      }
    expect(full).toBeGreaterThan(2);
    expect(visitsIn(folder)).toEqual(Array.from({ length: full - 1 }, (_, i) => `V-${i + 1}`));
    expect(readRegister(folder).problems).toEqual([]);
    const kept = keptHashes(folder).length;
    writeFileSync(join(disk, "filler"), "");
    try {
      for (;;) writeFileSync(join(disk, "filler"), Buffer.alloc(4096), { flag: "a" });
    } catch {
      // Full to the last byte.
    }
    const before = readFileSync(join(folder, "register.jsonl"), "utf8");
    expect(() => appendToRegister(folder, [madeEntry("W")])).toThrow();
    expect(readFileSync(join(folder, "register.jsonl"), "utf8")).toBe(before);
    rmSync(join(disk, "filler"));
    execFileSync("mount", ["-o", "remount,size=2m", disk]);
    recordMade(folder, [made(full)], { how: "letter" });
    expect(visitsIn(folder).at(-1)).toBe(`V-${full}`);
    expect(keptHashes(folder).length).toBeGreaterThan(kept);
    expect(readRegister(folder).problems).toEqual([]);
  });
});

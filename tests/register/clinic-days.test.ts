import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { openWork } from "../../src/due/open-work.js";
import { readChain } from "../../src/register/chain.js";
import { contentOf } from "../../src/register/kept.js";
import { lastOf } from "../../src/register/read.js";
import { readLine } from "../../src/register/stored.js";
import { scratch } from "../batch/command.js";
import { ClinicDays, type Draw, dayAfter } from "./clinic-days.js";

/** All of it: CLINIC_DAYS=1000 CLINIC_SEED=.... */
const DAYS = Number(process.env.CLINIC_DAYS ?? 20);
const SEED = Number(process.env.CLINIC_SEED ?? 20_270_104);
const PATIENTS = DAYS >= 1000 ? 300 : 24;
/** Spoiled copies of the register on each day. */
const SPOILS = DAYS >= 1000 ? 1 : 5;
const START = "2027-01-04";
/** What this account speaks of; what the findings raise is pinned in tests of its own. */
const KINDS = new Set(["draft", "not-made", "not-sent", "follow-up-missed", "test-awaited"]);

function draws(seed: number): Draw {
  let state = seed >>> 0;
  return (below) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return Math.floor((((t ^ (t >>> 14)) >>> 0) / 2 ** 32) * below);
  };
}

function openIn(days: ClinicDays, today: string): string[] {
  const { lines } = days.register();
  return openWork([...days.work.values()], lines, { lateAfter: {}, people: {} }, today)
    .filter(({ kind }) => KINDS.has(kind))
    .map(({ kind, visit, detail, edition }) => {
      if (kind === "test-awaited") return `${kind} ${visit} ${detail}`;
      if (kind === "not-sent") return `${kind} ${visit} ${edition} ${detail}`;
      return kind === "not-made" ? `${kind} ${visit} ${edition}` : `${kind} ${visit}`;
    })
    .sort();
}

/** Changes a register in one way out of five; gives the text back and where the first change lies. */
function spoiled(text: string, draw: Draw): string {
  const lines = text.trimEnd().split("\n");
  const i = draw(lines.length);
  const line = lines[i] ?? "";
  const way = draw(5);
  if (way === 0) {
    const at = draw(line.length);
    lines[i] = `${line.slice(0, at)}${line[at] === "7" ? "8" : "7"}${line.slice(at + 1)}`;
  } else if (way === 1) lines.splice(i, 1);
  else if (way === 2) lines.splice(i, 0, line);
  else if (way === 3) {
    const j = (i + 1 + draw(lines.length - 1)) % lines.length;
    [lines[i], lines[j]] = [lines[j] ?? "", line];
  } else lines.splice(lines.length - 1 - draw(3), 3);
  return `${lines.join("\n")}\n`;
}

describe("an invented clinic", () => {
  it(`tells after each of ${DAYS} days what is open, shows what was sent byte for byte, and misses no break`, async () => {
    const draw = draws(SEED);
    const days = new ClinicDays(join(scratch(), "clinic"), PATIENTS, draw);
    let spoils = 0;
    for (let n = 0; n < DAYS; n += 1) {
      const day = dayAfter(START, n);
      await days.live(day);
      expect(openIn(days, day), `seed ${SEED}, day ${n + 1}`).toEqual(days.open(day));
      const { problems } = days.register();
      expect(problems.filter(({ severity }) => severity === "error")).toEqual([]);
      const text = readFileSync(join(days.folder, "register.jsonl"), "utf8");
      const whole = untorn(text);
      const last = lastOf(days.folder);
      for (let k = 0; k < SPOILS; k += 1) {
        const other = spoiled(text, draw);
        // A torn line says nothing, whatever becomes of it; nor does a line that nothing vouches for yet.
        if (untorn(other) === whole) continue;
        const { faults } = readChain(other, last);
        const seen = faults.some(({ id }) => id === "register-broken" || id === "register-cut");
        expect(seen || isUnvouched(text, other, last?.hash ?? ""), `seed ${SEED}, day ${n + 1}`).toBe(true);
        spoils += seen ? 1 : 0;
      }
    }
    for (const [hash, bytes] of days.sent)
      expect(Buffer.from(contentOf(days.folder, hash)?.bytes ?? []).equals(bytes)).toBe(true);
    console.log(`${DAYS} days, seed ${SEED}: ${JSON.stringify(days.counts)}, ${spoils} breaks seen`);
    expect(days.sent.size).toBeGreaterThan(DAYS / 4);
    expect(Math.min(...Object.values(days.counts))).toBeGreaterThan(0);
    expect(spoils).toBeGreaterThan(DAYS * SPOILS * 0.6);
  }, 7_200_000);
});

const isLine = (text: string): boolean => readLine(text) !== undefined;
const untorn = (text: string): string => text.split("\n").filter(isLine).join("\n");

/** True when only lines differ that were written after the last one that is vouched for. */
function isUnvouched(text: string, other: string, last: string): boolean {
  const lines = text.split("\n").filter(isLine);
  const vouched = lines.findIndex((line) => readLine(line)?.line.hash === last);
  return vouched >= 0 && untorn(other).startsWith(lines.slice(0, vouched + 1).join("\n"));
}

/** Alarms that always ring are not heard: the count stays within its bars, and the printed figures are those of today. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { parse, stringify } from "yaml";
import { root } from "../house/source-files.js";
import { type Alarms, countAlarms } from "./count-alarms.js";

const file = join(root, "tests", "hazards", "alarms.yaml");
const HEAD =
  "# Lines raised on made-up healthy visits and on the published cases in view. Written by ACCEPT=1 vitest run tests/hazards.\n";
const MOST_HEALTHY = 0.05;
const MOST_FOR_ONE_NEEDED = 1.3;

describe("alarms", () => {
  const found = countAlarms();
  if (process.env.ACCEPT === "1") {
    const counted = new Date().toISOString().slice(0, 10);
    writeFileSync(file, `${HEAD}${stringify({ counted, ...found })}`);
  }
  const kept: Alarms & { counted: string } = parse(readFileSync(file, "utf8"));
  const share = (a: Alarms) => a.healthy.alarmed / a.healthy.visits;
  const each = (a: Alarms) => a.cases.raised / a.cases.needed;

  it("ring on few healthy visits", () => {
    expect(share(found)).toBeLessThanOrEqual(MOST_HEALTHY);
  });

  it("are few beside what is called for", () => {
    expect(each(found)).toBeLessThanOrEqual(MOST_FOR_ONE_NEEDED);
  });

  it("stand in the file as they are", () => {
    expect(kept.counted).toMatch(/^\d{4}-\d\d-\d\d$/u);
    expect(Math.abs(share(kept) - share(found))).toBeLessThan(0.01);
    expect(Math.abs(each(kept) - each(found))).toBeLessThan(0.05);
    // What was missed before may be caught now; nothing new may be missed.
    expect(found.cases.missed.filter((id) => !kept.cases.missed.includes(id))).toEqual([]);
  });
});

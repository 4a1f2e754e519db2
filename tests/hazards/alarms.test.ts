/** Alarms that always ring are not heard: the count stays within its bars, and the printed figures are those of today. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { parse, stringify } from "yaml";
import { root } from "../house/source-files.js";
import { type Alarms, countAlarms } from "./count-alarms.js";

const file = join(root, "tests", "hazards", "alarms.yaml");
const HEAD =
  "# Lines raised on made-up healthy visits and on published cases and taught pictures, all in view. Written by ACCEPT=1 vitest run tests/hazards.\n";
const MOST_HEALTHY = 0.05;

describe("alarms", () => {
  const found = countAlarms();
  if (process.env.ACCEPT === "1") {
    const counted = new Date().toISOString().slice(0, 10);
    writeFileSync(file, `${HEAD}${stringify({ counted, ...found })}`);
  }
  const kept: Alarms & { counted: string } = parse(readFileSync(file, "utf8"));
  const share = (a: Alarms) => a.healthy.alarmed / a.healthy.visits;
  const each = (of: "cases" | "pictures", a: Alarms) => a[of].raised / a[of].needed;

  it("ring on few healthy visits", () => {
    expect(share(found)).toBeLessThanOrEqual(MOST_HEALTHY);
  });

  it.each([
    ["cases", 1.3],
    // Told as reports tell them: medicines and cancers of the past have lines of their own, which no list of ours calls for.
    ["pictures", 1.5],
  ] as const)("are few beside what is called for in %s", (of, most) => {
    expect(each(of, found)).toBeLessThanOrEqual(most);
  });

  it("stand in the file as they are", () => {
    expect(kept.counted).toMatch(/^\d{4}-\d\d-\d\d$/u);
    expect(Math.abs(share(kept) - share(found))).toBeLessThan(0.01);
    for (const of of ["cases", "pictures"] as const) {
      expect(Math.abs(each(of, kept) - each(of, found))).toBeLessThan(0.05);
      // What was missed before may be caught now; nothing new may be missed.
      expect(found[of].missed.filter((id) => !kept[of].missed.includes(id))).toEqual([]);
    }
  });
});

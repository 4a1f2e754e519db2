import { cpSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { gatherShards } from "../../src/batch/gather.js";
import { ended, manifestOf, scratch, startWhorl, whorl } from "./command.js";
import { generateVisits } from "./generate-visits.js";

const LETTER = ["-d", "referral-letter", "--jobs", "1"];
let visits: string;
let out: string;
let codes: (number | null)[];

/** Two real processes at once, as a job array would start them; the third part by itself. */
beforeAll(async () => {
  const made = generateVisits(scratch(), 5);
  visits = made.folder;
  out = join(scratch(), "letters");
  const part = (i: number) => ["batch", visits, "--out", out, ...LETTER, "--shard", `${i}/3`];
  const running = [1, 2].map((i) => ended(startWhorl(...part(i))));
  codes = [...(await Promise.all(running)), whorl(...part(3)).code];
});

const copy = () => {
  const folder = scratch();
  cpSync(out, folder, { recursive: true });
  return folder;
};
const change = (folder: string, part: string, edit: (text: string) => string) => {
  const file = join(folder, part, "manifest.json");
  const text = readFileSync(file, "utf8");
  expect(edit(text)).not.toBe(text);
  writeFileSync(file, edit(text));
};

describe("parts run by separate processes", () => {
  it("join into what one run makes", () => {
    expect(codes).toEqual([0, 0, 0]);
    const folder = copy();
    const joined = whorl(
      "batch",
      "--gather",
      "--out",
      folder,
      "--print-run",
      join(folder, "run.pdf"),
      "--json",
    );
    expect(joined.err).toBe("");
    expect(joined.code).toBe(0);
    const whole = join(scratch(), "letters");
    expect(whorl("batch", visits, "--out", whole, ...LETTER).code).toBe(0);
    const essence = (f: string) =>
      manifestOf(f).documents.map((d) => [d.visit, d.place, d.sha256, d.file.replace(/^.*\//u, "")].join());
    expect(essence(folder)).toEqual(essence(whole));
    expect(manifestOf(folder).totals).toEqual(manifestOf(whole).totals);
    expect(whorl("proof", folder).code).toBe(0);
  });

  it("a part that is missing or unfinished is a gap", () => {
    const folder = copy();
    rmSync(join(folder, "shard-02-of-03", "manifest.json"));
    expect(gatherShards(folder).faults).toEqual([expect.stringContaining("2/3")]);
    rmSync(join(folder, "shard-02-of-03"), { recursive: true });
    expect(whorl("batch", "--gather", "--out", folder).code).toBe(1);
    expect(gatherShards(scratch()).faults).toHaveLength(1);
  });

  it("a part that stands in another's place is a double and a gap", () => {
    const folder = copy();
    rmSync(join(folder, "shard-02-of-03"), { recursive: true });
    cpSync(join(folder, "shard-01-of-03"), join(folder, "shard-02-of-03"), { recursive: true });
    expect(gatherShards(folder).faults.join()).toContain("part 1/3");
    change(folder, "shard-02-of-03", (t) => t.replace('"shard": "1/3"', '"shard": "2/3"'));
    expect(gatherShards(folder).faults.join()).toMatch(
      /Visit \S+ is in shard-01-of-03 and in shard-02-of-03/u,
    );
  });

  it("parts of different worklists, options, versions or splits do not join", () => {
    for (const [from, to] of [
      [/("worklist": \{\s*"visits": \d+,\s*"sha256": ")[0-9a-f]{64}/u, `$1${"0".repeat(64)}`],
      ['"drafts": false', '"drafts": true'],
      [/"whorl": "[^"]+"/u, '"whorl": "9.9.9"'],
    ] as const) {
      const folder = copy();
      change(folder, "shard-03-of-03", (t) => t.replace(from, to));
      expect(gatherShards(folder).faults).toHaveLength(1);
    }
    const folder = copy();
    renameSync(join(folder, "shard-03-of-03"), join(folder, "shard-03-of-04"));
    expect(gatherShards(folder).faults.join()).toContain("different splits");
  });
});

/** A disk that is really full: two megabytes of memory mounted as one. */
import { execFileSync } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { afterEach, beforeAll, describe, expect, it } from "vitest";
import { sha256 } from "../../src/base/sha256.js";
import { openJournal, readJournal } from "../../src/batch/journal.js";
import { writeManifest } from "../../src/batch/manifest.js";
import { openAppended, readAppended } from "../../src/files/append.js";
import { openWholeFile } from "../../src/files/whole-file.js";
import { manifestOf, scratch, whorl } from "./command.js";
import { faultsIn, identityOf, pathsBelow, pictureOf, vouchedFor } from "./endure-picture.js";
import { generateVisits } from "./generate-visits.js";
import { smallDisk } from "./small-disk.js";

const { disk, canMount } = smallDisk("2m");

/** Takes all room but so much. */
function leave(bytes: number): void {
  const filler = join(disk, "filler");
  try {
    for (let mb = 0; mb < 3; mb += 0.25) writeFileSync(filler, Buffer.alloc(2 ** 18), { flag: "a" });
  } catch {
    // Full.
  }
  execFileSync("truncate", ["-s", `-${bytes}`, filler]);
}
const free = () => rmSync(join(disk, "filler"), { force: true });
const temporaries = () => pathsBelow(disk).filter((path) => path.endsWith(".part"));
const pdfsIn = (folder: string) => [...pictureOf(folder)].filter(([path]) => path.endsWith(".pdf"));
const LETTER = ["--document", "referral-letter", "--jobs", "1"];
const FULL = { code: "ENOSPC", file: expect.stringContaining(disk) };

describe.runIf(canMount)("a full disk (left out where no disk can be mounted: it takes root)", () => {
  let visits: string;
  let files: readonly string[];

  beforeAll(() => {
    ({ folder: visits, files } = generateVisits(join(scratch(), "visits"), 4));
  });

  afterEach(() => {
    for (const name of readdirSync(disk)) rmSync(join(disk, name), { recursive: true, force: true });
  });

  it("stops a batch with whole letters only, and a run with room makes the rest, then a print run", () => {
    const out = join(disk, "out");
    leave(170_000);
    const full = whorl("batch", visits, "--out", out, ...LETTER);
    expect(full.code).toBe(3);
    expect(full.err).toMatch(/could not write \S+referral-letter\.pdf: the disk is full \(ENOSPC\)/u);
    expect(full.err).toContain(out);
    expect(existsSync(join(out, "manifest.json"))).toBe(false);
    expect(temporaries()).toEqual([]);
    const { visits: known } = readJournal(out);
    expect(known.size).toBeGreaterThan(0);
    expect(known.size).toBeLessThan(4);
    const made = vouchedFor(out, new Map([...known.values()].map((v) => [v.key, v.fingerprint])));
    expect(
      pdfsIn(out)
        .map(([path]) => join(out, path))
        .sort(),
    ).toEqual(made.sort());
    const before = made.map(identityOf);

    // As full as it was: nothing more, and nothing less.
    expect(whorl("batch", visits, "--out", out, ...LETTER).code).toBe(3);
    expect(made.map(identityOf)).toEqual(before);

    free();
    const again = whorl("batch", visits, "--out", out, ...LETTER, "--json");
    expect(again.code).toBe(0);
    expect(JSON.parse(again.out)).toMatchObject({ made: 4 - known.size, unchanged: known.size, failed: 0 });
    expect(made.map(identityOf)).toEqual(before);
    const { documents } = manifestOf(out);
    expect(faultsIn(out, new Map(documents.map((d) => [d.file, new Set([d.sha256])])))).toEqual([]);

    const run = join(disk, "print", "run.pdf");
    mkdirSync(dirname(run));
    writeFileSync(run, "an older print run");
    leave(30_000);
    const printed = whorl("batch", visits, "--out", out, ...LETTER, "--print-run", run);
    expect(printed.code).toBe(3);
    expect(printed.err).toContain(`${run}: the disk is full`);
    expect(readFileSync(run, "utf8")).toBe("an older print run");
    expect(temporaries()).toEqual([]);
    free();
    expect(whorl("batch", visits, "--out", out, ...LETTER, "--print-run", run).code).toBe(0);
    expect(readFileSync(run).subarray(-6).toString("latin1")).toContain("%%EOF");
  });

  it("stops letter and export, and leaves what stood there", () => {
    const [file = ""] = files;
    leave(20_000);
    const older = join(disk, "TS-2027-00001-referral-letter.pdf");
    writeFileSync(older, "an older letter");
    const letter = whorl("letter", file, "--out", disk, "--document", "referral-letter");
    expect(letter.code).toBe(3);
    expect(letter.err).toContain(`${older}: the disk is full (ENOSPC)`);
    expect(readFileSync(older, "utf8")).toBe("an older letter");
    for (const form of ["fhir", "docx"]) {
      const out = join(disk, `visit.${form}`);
      const exported = whorl("export", file, "--as", form, "--out", out);
      expect([exported.code, exported.err]).toEqual([3, expect.stringContaining(`${out}: the disk is full`)]);
      expect(existsSync(out)).toBe(false);
    }
    expect(temporaries()).toEqual([]);
  });

  it("keeps the journal to whole lines, and goes on when there is room", () => {
    const file = join(disk, "journal");
    const journal = openAppended(file);
    leave(10_000);
    const line = "x".repeat(700);
    let written = 0;
    expect(() => {
      for (;;) {
        journal.append(line);
        written += 1;
      }
    }).toThrow(expect.objectContaining(FULL));
    expect(written).toBeGreaterThan(0);
    expect(() => journal.append(line)).toThrow(expect.objectContaining(FULL));
    expect(readFileSync(file).length).toBe(701 * written);
    free();
    journal.append("the next");
    journal.close();
    expect(readAppended(file)).toEqual([...Array.from({ length: written }, () => line), "the next"]);
  });

  it("leaves the journal as it was when it cannot be rewritten", () => {
    const record = (key: string) => ({
      key,
      fingerprint: "f",
      visit: key,
      state: "waiting" as const,
      documents: [],
      reasons: [],
    });
    const head = { journal: 1, source: "/visits" } as const;
    openJournal(disk, head, [record("a")]).close();
    leave(0);
    const many = Array.from({ length: 200 }, (_, i) => record(String(i)));
    expect(() => openJournal(disk, head, many)).toThrow(expect.objectContaining(FULL));
    expect([...readJournal(disk).visits.keys()]).toEqual(["a"]);
    expect(temporaries()).toEqual([]);
  });

  it("leaves no manifest that is not true, nor a half of one", () => {
    const manifest = (visits: number) => ({
      format: 1 as const,
      whorl: "0",
      settings: { documents: [], drafts: false },
      source: "/visits",
      worklist: { visits, sha256: "" },
      shard: null,
      totals: { visits, made: 0, unchanged: 0, waiting: 0, failed: visits, documents: 0 },
      documents: [],
      visits: [],
      waiting: [],
      failures: Array.from({ length: visits }, (_, i) => ({ source: `visit ${i}`, visit: "", reasons: [] })),
      notices: [],
    });
    writeManifest(disk, manifest(1));
    const before = pictureOf(disk);
    leave(0);
    // The same again needs room only for manifest.json, and the one that stands is still true.
    expect(() => writeManifest(disk, manifest(1))).toThrow(expect.objectContaining(FULL));
    free();
    expect([...pictureOf(disk)].filter(([path]) => path !== "filler")).toEqual([...before]);
    leave(0);
    expect(() => writeManifest(disk, manifest(3000))).toThrow(expect.objectContaining(FULL));
    expect(existsSync(join(disk, "manifest.json"))).toBe(false);
    expect(before.get("failures.csv")).toBe(sha256(readFileSync(join(disk, "failures.csv"))));
    expect(temporaries()).toEqual([]);
    const large = openWholeFile(join(disk, "run.pdf"));
    expect(() => {
      for (let i = 0; i < 400; i += 1) large.write(new Uint8Array(10_000));
      large.finish();
    }).toThrow(expect.objectContaining(FULL));
    expect(temporaries()).toEqual([]);
  });
});

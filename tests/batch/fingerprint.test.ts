/** What makes a document be made again, and what does not. */
import { mkdirSync, readFileSync, rmSync, statSync, utimesSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { fingerprints, isAsPlanned, type MakeSettings } from "../../src/batch/fingerprint.js";
import type { Named } from "../../src/clinic-folder/scan.js";
import { VisitFiles } from "../../src/clinic-folder/visit-files.js";
import { scratch } from "./command.js";
import { generateVisits } from "./generate-visits.js";

const SETTINGS: MakeSettings = { documents: ["referral-letter"], drafts: false, proof: true };

function fingerprintOf(file: string, people: readonly Named[] = [], settings = SETTINGS): string {
  const clinic = join(dirname(dirname(file)), "clinic.yaml");
  return fingerprints(settings, new VisitFiles(), people).of(
    { key: "a", file, place: 0, overrides: {} },
    clinic,
    [],
  ).fingerprint;
}

describe("a visit with a photo", () => {
  const { files } = generateVisits(join(scratch(), "visits"), 8);
  const file = files.find((f) => readFileSync(f, "utf8").includes("photos/")) ?? "";
  const photo = join(dirname(file), "photos", "left-1.jpg");

  it("is another when the photo is, even of the same size and time", () => {
    const before = fingerprintOf(file);
    const time = new Date(2026, 2, 12);
    utimesSync(photo, time, time);
    const { size, mtimeMs } = statSync(photo);
    const bytes = readFileSync(photo);
    bytes[size - 100] = (bytes[size - 100] ?? 0) ^ 1;
    writeFileSync(photo, bytes);
    utimesSync(photo, time, time);
    expect(statSync(photo)).toMatchObject({ size, mtimeMs });
    expect(fingerprintOf(file)).not.toBe(before);
  });

  it("is the same when the photo was only touched or copied", () => {
    const before = fingerprintOf(file);
    utimesSync(photo, new Date(), new Date(2020, 1, 1));
    expect(fingerprintOf(file)).toBe(before);
  });

  it("is another when marks are set on the photo or moved, and a worker that read others is found out", () => {
    const marks = join(dirname(file), "photos", "left-1.marks.yaml");
    rmSync(marks, { force: true });
    const before = fingerprintOf(file);
    writeFileSync(marks, "one");
    const set = fingerprintOf(file);
    expect(set).not.toBe(before);
    writeFileSync(marks, "two");
    expect(fingerprintOf(file)).not.toBe(set);
    const planned = fingerprints(SETTINGS, new VisitFiles(), []).of(
      { key: "a", file, place: 0, overrides: {} },
      join(dirname(dirname(file)), "clinic.yaml"),
      [],
    );
    const read = (hash: string) => ({ ...planned.inputs, beside: { [marks]: hash } });
    expect(isAsPlanned(planned, read(planned.inputs.photos[marks] ?? ""))).toBe(true);
    expect(isAsPlanned(planned, read("0".repeat(64)))).toBe(false);
    rmSync(marks);
    expect(fingerprintOf(file)).toBe(before);
  });

  it("never makes a file outside its folder be read", () => {
    const text = readFileSync(file, "utf8");
    writeFileSync(file, text.replace("photos/left-1.jpg", "../../../../../../../../dev/zero"));
    expect(fingerprintOf(file)).toMatch(/^[0-9a-f]{64}$/u);
    const outside = join(scratch(), "outside.jpg");
    writeFileSync(outside, "one");
    writeFileSync(file, text.replace("photos/left-1.jpg", outside));
    const before = fingerprintOf(file);
    writeFileSync(outside, "two");
    expect(fingerprintOf(file)).toBe(before);
  });
});

describe("a visit that speaks of somebody", () => {
  const { files } = generateVisits(join(scratch(), "visits"), 1);
  const [file = ""] = files;
  writeFileSync(
    file,
    readFileSync(file, "utf8").replace(/^ {2}reason: .*$/mu, "  reason: Came with Torvald Brannagh."),
  );
  const person = {
    visit: "V2",
    patient: "TS-40999",
    given: "Torvald",
    family: "Brannagh",
    born: "2019-01-30",
  };
  const stranger = { ...person, given: "Ivo", family: "Quill" };

  it("is another once that person is of the run too, and the same for everyone else", () => {
    const alone = fingerprintOf(file);
    expect(fingerprintOf(file, [person])).not.toBe(alone);
    expect(fingerprintOf(file, [stranger])).toBe(alone);
  });

  it("is the same without proofing, which alone looks for others", () => {
    const unproofed = { ...SETTINGS, proof: false };
    expect(fingerprintOf(file, [person], unproofed)).toBe(fingerprintOf(file, [], unproofed));
  });
});

describe("a clinic with a folder of typefaces", () => {
  const { files } = generateVisits(join(scratch(), "visits"), 1);
  const [file = ""] = files;
  const home = dirname(dirname(file));
  const clinic = join(home, "clinic.yaml");
  mkdirSync(join(home, "faces"));
  writeFileSync(join(home, "faces", "one.ttf"), "one");
  writeFileSync(clinic, `${readFileSync(clinic, "utf8").trimEnd()}\nfonts: faces\n`);

  it("is another when one of them is", () => {
    const before = fingerprintOf(file);
    writeFileSync(join(home, "faces", "one.ttf"), "two");
    expect(fingerprintOf(file)).not.toBe(before);
  });
});

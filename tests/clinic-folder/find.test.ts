import { chmodSync, mkdirSync, renameSync, rmSync, symlinkSync, utimesSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { lookAround, prepareFile } from "../../src/batch/prepare.js";
import { ClinicFiles } from "../../src/clinic-folder/clinic-file.js";
import { yamlBelow, yamlIn } from "../../src/clinic-folder/find.js";
import { VisitFiles } from "../../src/clinic-folder/visit-files.js";
import { VisitReader } from "../../src/clinic-folder/visit-reader.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { scratch } from "../batch/command.js";
import { generateVisits } from "../batch/generate-visits.js";

const knowledge = loadKnowledge();
const person = (visit: string, patient: string) =>
  `visit: { id: ${visit}, date: 2026-01-02 }\npatient: { id: ${patient} }\n`;

/** A folder with one entry of every odd kind. */
function oddFolder(): string {
  const folder = scratch();
  const put = (name: string, text: string) => {
    mkdirSync(join(folder, name, ".."), { recursive: true });
    writeFileSync(join(folder, name), text);
  };
  put("a.yaml", person("V1", "P1"));
  put("b.YML", person("V2", "P1"));
  put("json.yaml", JSON.stringify({ visit: { id: "V3" }, patient: { id: "P2" } }));
  put("deep/c.yaml", person("V4", "P3"));
  put("notes.yaml", "colour: red\n");
  put("clinic.yaml", "visit: no\n");
  put("Mapping.yml", "visit: no\n");
  put("visit.txt", person("V5", "P1"));
  put(".hidden/v.yaml", person("V6", "P1"));
  put("node_modules/v.yaml", person("V7", "P1"));
  put("broken.yaml", "visit: [\n");
  put("zero.yaml", "\0\0\0");
  mkdirSync(join(folder, "folder.yaml"));
  symlinkSync(join(folder, "nowhere"), join(folder, "gone.yaml"));
  symlinkSync(join(folder, "a.yaml"), join(folder, "linked.yaml"));
  symlinkSync(join(folder, "deep"), join(folder, "shallow"));
  symlinkSync(join(folder, "visit.txt"), join(folder, "text.txt"));
  symlinkSync(join(folder, "deep"), join(folder, "odd.name."));
  return folder;
}

describe("a folder of odd entries", () => {
  const folder = oddFolder();
  const within = (file: string | undefined) => file?.slice(folder.length + 1);

  it("gives its visits in order and names every link, once for all commands", () => {
    const { files, problems } = new VisitFiles().named([folder]);
    expect(files.map(within)).toEqual([
      "a.yaml",
      "b.YML",
      "broken.yaml",
      "deep/c.yaml",
      "json.yaml",
      "zero.yaml",
    ]);
    expect(problems.map((p) => `${p.severity} ${p.id} ${within(p.file)}`)).toEqual([
      "error symbolic-link gone.yaml",
      "error symbolic-link linked.yaml",
      "error symbolic-link odd.name.",
      "error symbolic-link shallow",
    ]);
  });

  it("passes on what is named itself, whatever it is, and each file once", () => {
    const named = ["gone.yaml", "notes.yaml", "linked.yaml", "nowhere"].map((n) => join(folder, n));
    expect(new VisitFiles().named([...named, named[1] ?? ""])).toEqual({
      files: named,
      problems: [],
    });
  });

  it("gives the other visits of a patient number, and never through a link", () => {
    const visits = new VisitFiles();
    expect(visits.beside(join(folder, "a.yaml")).map(within)).toEqual(["b.YML"]);
    expect(visits.beside(join(folder, "b.YML")).map(within)).toEqual(["a.yaml"]);
    expect(visits.beside(join(folder, "json.yaml"))).toEqual([]);
    expect(visits.beside(join(folder, "broken.yaml"))).toEqual([]);
    expect(visits.beside(join(folder, "not-there.yaml"))).toEqual([]);
    expect(yamlIn(join(folder, "no-such-folder"))).toEqual([]);
  });

  it.skipIf(process.getuid?.() === 0)("names a folder that cannot be read", () => {
    mkdirSync(join(folder, "shut"));
    chmodSync(join(folder, "shut"), 0);
    expect(yamlBelow(folder).notTaken.map((n) => `${n.id} ${within(n.file)}`)).toContain(
      "unreadable-folder shut",
    );
    chmodSync(join(folder, "shut"), 0o700);
  });
});

describe("files as one run sees them", () => {
  it("stay as first seen, and are read again by the next only when they changed", () => {
    const file = join(scratch(), "v.yaml");
    writeFileSync(file, person("V1", "P1"));
    const first = new VisitFiles();
    const scan = first.scan(file);
    writeFileSync(file, person("V2", "P1"));
    expect(first.scan(file)).toBe(scan);
    const second = new VisitFiles(first);
    expect(second.scan(file).identity?.visit).toBe("V2");
    expect(new VisitFiles(second).scan(file)).toBe(second.scan(file));
  });

  it("are seen to change even where size and time stay the same", () => {
    const folder = scratch();
    const file = join(folder, "v.yaml");
    const day = new Date(2026, 1, 1);
    writeFileSync(file, person("V1", "P1"));
    utimesSync(file, day, day);
    const first = new VisitFiles();
    first.scan(file);
    writeFileSync(join(folder, "other"), person("V2", "P1"));
    utimesSync(join(folder, "other"), day, day);
    renameSync(join(folder, "other"), file);
    expect(new VisitFiles(first).scan(file).identity?.visit).toBe("V2");
  });

  it("can be looked at again, with those beside", () => {
    const folder = scratch();
    const [a, b] = ["a.yaml", "b.yaml"].map((n) => join(folder, n)) as [string, string];
    writeFileSync(a, person("V1", "P1"));
    writeFileSync(b, person("V2", "P2"));
    const visits = new VisitFiles();
    expect(visits.beside(a)).toEqual([]);
    writeFileSync(b, person("V2", "P1"));
    expect(visits.beside(a)).toEqual([]);
    expect(visits.again(b).identity?.patient).toBe("P1");
    expect(visits.beside(a)).toEqual([b]);
  });
});

describe("the clinic file", () => {
  const folder = scratch();
  mkdirSync(join(folder, "a", "b"), { recursive: true });
  const clinic = join(folder, "clinic.yaml");
  writeFileSync(clinic, "name: 3\n");

  it("stands beside the visit or in a folder above, unless one is named", () => {
    const clinics = new ClinicFiles();
    expect(clinics.fileOf(join(folder, "a", "b", "v.yaml"))).toBe(clinic);
    expect(clinics.fileOf(join(folder, "v.yaml"))).toBe(clinic);
    expect(new ClinicFiles("/named.yaml").fileOf(join(folder, "v.yaml"))).toBe("/named.yaml");
  });

  it("is found where it is put later, and read again when it changes", () => {
    const clinics = new ClinicFiles();
    const visit = join(folder, "a", "b", "v.yaml");
    expect(clinics.of(visit).clinic).toBeUndefined();
    expect(clinics.of(visit)).toBe(clinics.of(visit));
    rmSync(clinic);
    expect(clinics.of(visit).problems.map((p) => `${p.id} ${p.file}`)).toEqual([`no-clinic-file ${visit}`]);
    writeFileSync(join(folder, "a", "clinic.yaml"), "name: 4\n");
    expect(clinics.fileOf(visit)).toBe(join(folder, "a", "clinic.yaml"));
  });
});

describe("a reader", () => {
  it("reads each text of a file once, and an edited file anew", () => {
    const { files } = generateVisits(scratch(), 2);
    const [file = ""] = files;
    const reader = new VisitReader(knowledge, "2027-01-01");
    const read = reader.read(file);
    expect(reader.read(file)).toBe(read);
    expect(read.hash).toBe(new VisitFiles().scan(file).hash);
    writeFileSync(file, "visit: {}\n");
    expect(reader.read(file).value).toBeUndefined();
    expect(reader.read(join(file, "x")).problems.map((p) => p.id)).toEqual(["missing-file"]);
  });
});

it("an earlier visit is found however the folder is named, and only the earlier one", () => {
  const { folder, files } = generateVisits(scratch(), 18);
  const pair = files.filter((f) => f.includes("TS-50004"));
  const { around } = lookAround([folder], { knowledge, today: "2027-12-01" });
  const [first, second] = pair.map((file) => prepareFile(file, around).value);
  expect(first?.earlier).toEqual([]);
  expect(second?.earlier.map((v) => v.id)).toEqual([first?.examined.visit.id]);
  expect(second?.change?.visits.map((v) => v.visit)).toEqual([
    first?.examined.visit.id,
    second?.examined.visit.id,
  ]);
  expect(around.clinics.fileOf(pair[0] ?? "")).toBe(join(folder, "clinic.yaml"));
});

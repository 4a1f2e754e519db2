import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { conflicts, inShard, readShard, shardFolder } from "../../src/batch/plan.js";
import { postalCode } from "../../src/batch/postal-code.js";
import { NoSuchSource, readSource } from "../../src/batch/source.js";
import { ClinicFiles } from "../../src/clinic-folder/clinic-file.js";
import { VisitFiles } from "../../src/clinic-folder/visit-files.js";
import { scratch } from "./command.js";
import { generateVisits } from "./generate-visits.js";

function worklist(text: string, count = 3) {
  const made = generateVisits(scratch(), count);
  const file = join(made.folder, "today.csv");
  const names = made.files.map((f) => f.slice(made.folder.length + 1));
  writeFileSync(
    file,
    text.replace(/\$(\d)/gu, (_, i: string) => names[Number(i)] ?? ""),
  );
  return { file, names, folder: made.folder };
}
const untaken = (file: string) =>
  readSource(file).untaken.map((u) => `${u.reason.id} ${u.reason.where ?? ""}`.trim());

describe("a worklist", () => {
  it("gives visits in its order, with what each line says differently", () => {
    const { file, names } = worklist(
      "visit,documents,paper,language,large_print\n$2,handout,,,yes\n# by hand\n$0,,letter,en-US,\n$1,referral-letter handout,A4,,no\n",
    );
    const { items, untaken: none } = readSource(file);
    expect(none).toEqual([]);
    expect(items.map((i) => [i.key, i.place, i.overrides])).toEqual([
      [names[2], 0, { documents: ["handout"], largePrint: true }],
      [names[0], 1, { paper: "Letter", language: "en-US" }],
      [names[1], 2, { documents: ["referral-letter", "handout"], paper: "A4", largePrint: false }],
    ]);
  });

  it("may come from a spreadsheet: semicolons, a mark at its start, quoted paths", () => {
    const { file, names } = worklist('\ufeffVisit;Large print\r\n"$1";yes\r\n$0;\r\n');
    expect(readSource(file).items.map((i) => i.key)).toEqual([names[1], names[0]]);
  });

  it.each([
    ["visit\nnowhere.yaml\n", "no-such-visit line 2"],
    ["visit\n$0\n$0\n", "listed-twice line 3"],
    ["visit\n../outside.yaml\n", "outside-folder line 2"],
    ["visit\n/etc/passwd\n", "outside-folder line 2"],
    ["visit,paper\n$0,A3\n", "bad-worklist line 2"],
    ["visit,large_print\n$0,perhaps\n", "bad-worklist line 2"],
    ["visit,documents\n$0,../../x\n", "bad-worklist line 2"],
    ["file\n$0\n", "bad-worklist line 1"],
    ["visit,colour\n$0,red\n", "bad-worklist line 1"],
  ])("says what is wrong: %j", (text, expected) => {
    expect(untaken(worklist(text).file)).toEqual([expected]);
  });

  it("never throws on a torn quote", () => {
    expect(untaken(worklist('visit\n"$0\n').file)[0]).toMatch(/^bad-worklist/u);
  });

  it("does not follow a link out of the folder", () => {
    const { file, folder } = worklist("visit\nlink.yaml\nlinked/visit.yaml\n");
    const elsewhere = scratch();
    writeFileSync(join(elsewhere, "visit.yaml"), "visit: { id: X }");
    symlinkSync(join(elsewhere, "visit.yaml"), join(folder, "link.yaml"));
    symlinkSync(elsewhere, join(folder, "linked"));
    expect(untaken(file)).toEqual(["outside-folder line 2", "outside-folder line 3"]);
  });

  it("may start from another folder", () => {
    const { file, folder, names } = worklist("visit\n$0\n");
    const desk = scratch();
    writeFileSync(join(desk, "today.csv"), `visit\n${names[0]}\n`);
    expect(readSource(join(desk, "today.csv")).untaken.map((u) => u.reason.id)).toEqual(["no-such-visit"]);
    expect(readSource(join(desk, "today.csv"), folder).items.map((i) => i.key)).toEqual([names[0]]);
    expect(() => readSource(join(file, "no"))).toThrow(NoSuchSource);
  });
});

describe("a folder", () => {
  it("is read in order; clinic files, other YAML and hidden folders are no visits, links are reported", () => {
    const made = generateVisits(scratch(), 3);
    mkdirSync(join(made.folder, ".hidden"));
    writeFileSync(join(made.folder, ".hidden", "v.yaml"), "visit: { id: X }");
    writeFileSync(join(made.folder, "notes.yaml"), "colour: red");
    symlinkSync(made.files[0] ?? "", join(made.folder, "again.yaml"));
    const source = readSource(made.folder);
    expect(source.items.map((i) => i.file)).toEqual(made.files);
    expect(source.untaken.map((u) => [u.key, u.reason.id])).toEqual([["again.yaml", "symbolic-link"]]);
  });

  it("finds the clinic above, and visits of the same patient beside", () => {
    const made = generateVisits(scratch(), 18);
    const pair = made.files.filter((f) => f.includes("TS-50004"));
    expect(pair.length).toBeGreaterThan(1);
    expect(new VisitFiles().beside(pair[1] ?? "")).toEqual([pair[0]]);
    expect(new ClinicFiles().fileOf(pair[0] ?? "")).toBe(join(made.folder, "clinic.yaml"));
  });
});

describe("shards", () => {
  it("are parsed strictly", () => {
    expect(readShard("2/4")).toEqual({ index: 2, count: 4 });
    for (const text of ["0/4", "5/4", "1", "1/0", "01/4", "1/4 ", "-1/4", "1/99999"])
      expect(readShard(text)).toBeUndefined();
    expect(shardFolder({ index: 2, count: 12 })).toBe("shard-02-of-12");
  });

  it("take each key once, and the same one whatever else is listed", () => {
    const keys = Array.from({ length: 500 }, (_, i) => `p${i}/2027-01-01.yaml`);
    const parts = [1, 2, 3, 4].map((index) => keys.filter((k) => inShard(k, { index, count: 4 })));
    expect(parts.flat().sort()).toEqual([...keys].sort());
    for (const part of parts) expect(part.length).toBeGreaterThan(90);
    expect(inShard("p0/2027-01-01.yaml", undefined)).toBe(true);
  });
});

describe("conflicts", () => {
  it("are told for every file that carries one visit number, and for nobody else", () => {
    const found = conflicts([
      { key: "a", visit: "V1" },
      { key: "b", visit: "v1" },
      { key: "c", visit: "V3" },
      { key: "d", visit: "" },
      { key: "e", visit: "" },
      { key: "f" },
    ]);
    expect([...found].map(([key, r]) => `${key} ${r.id} ${r.message}`)).toEqual([
      "a visit-id-twice Two visit files carry the same visit id; neither was made. (b)",
      "b visit-id-twice Two visit files carry the same visit id; neither was made. (a)",
    ]);
    const many = conflicts(Array.from({ length: 8 }, (_, i) => ({ key: String(i), visit: "V" })));
    expect(many.get("7")?.message).toMatch(/\(0, 1, 2, 3, 4 and 2 more\)$/u);
  });
});

describe("postal codes", () => {
  it.each([
    [["Quayside Practice", "1 Fish Street", "Tarn Sound", "ts1  1aa"], "TS1 1AA"],
    [["12345 Long Road", "1017 AB Somewhere"], "1017 AB"],
    [["Rue X 4", "75008 Ville"], "75008"],
    [["1 Elm St", "Town, XY 12345-6789"], "12345-6789"],
    [["The Lodge", "Somewhere"], ""],
  ])("%j", (lines, code) => {
    expect(postalCode(lines)).toBe(code);
  });
});

/** How doubts about whose visit it is are told, what is kept between two looks, and which photos are compared. */
import { mkdirSync, truncateSync, writeFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { describe, expect, it } from "vitest";
import { ClinicPeople } from "../../src/clinic-folder/clinic-people.js";
import { VisitFiles } from "../../src/clinic-folder/visit-files.js";
import { MOST_KEPT, VisitReader } from "../../src/clinic-folder/visit-reader.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { PHOTO_LIMITS } from "../../src/page/photos.js";
import { scratch } from "../batch/command.js";

const folder = () => {
  const root = scratch();
  writeFileSync(join(root, "clinic.yaml"), "");
  return {
    root,
    put(name: string, text: string): string {
      mkdirSync(dirname(join(root, name)), { recursive: true });
      writeFileSync(join(root, name), text);
      return join(root, name);
    },
  };
};

const visit = (id: string, date: string, patient: string, rest = "") =>
  `visit: { id: ${id}, date: ${date} }\npatient: { ${patient} }\n${rest}`;
const MARIT = "id: TS-40417, name: { given: Marit, family: Solheim }, born: 1991-07-04, sex: female";

const look = (visits = new VisitFiles(), before?: ClinicPeople) =>
  new ClinicPeople({ visits, files: [], oneClinic: false }, before);

describe("a doubt", () => {
  const { put } = folder();
  const first = put("a/1.yaml", visit("V-1", "2026-01-01", MARIT));
  const others = ["2", "3", "4", "5"].map((n) =>
    put(`a/${n}.yaml`, visit(`V-${n}`, `2026-0${n}-01`, MARIT.replace("Solheim", "Berg"))),
  );

  it("names both sides, the first file that raises it, and at most three visits", () => {
    expect(look().problems(first)).toEqual([
      {
        severity: "error",
        id: "family-differs",
        message: `two visits under one patient number have different family names: see visits V-2, V-3, V-4 and 1 more (${relative(process.cwd(), others[0] ?? "")})`,
        file: first,
        path: "patient.name.family",
        found: "Solheim; there Berg",
        expected:
          "Correct the number of the visit that is another's. If it is one person, accept this id in the later visit, with the reason.",
      },
    ]);
    expect(
      look()
        .problems(others[0] ?? "")
        .map((p) => p.message),
    ).toEqual([
      `two visits under one patient number have different family names: see visit V-1 (${relative(process.cwd(), first)})`,
    ]);
  });

  it("that is accepted is a note, and asks for nothing", () => {
    const { put: place } = folder();
    const old = place("b/1.yaml", visit("V-1", "2026-01-01", MARIT));
    const married = place(
      "b/2.yaml",
      visit(
        "V-2",
        "2026-06-01",
        MARIT.replace("Solheim", "Lund"),
        "accept: [{ id: family-differs, reason: Married. }]\n",
      ),
    );
    expect(look().problems(old)).toEqual([]);
    expect(look().problems(married)).toEqual([
      {
        severity: "note",
        id: "family-differs",
        message: `two visits under one patient number have different family names: see visit V-1 (${relative(process.cwd(), old)}) (accepted)`,
        file: married,
        path: "patient.name.family",
        found: "Lund; there Solheim",
      },
    ]);
  });

  it.each([
    ["given: Marit", "given: Ida", "given-differs", "patient.name.given", "Marit; there Ida"],
    ["1991-07-04", "1991-07-05", "born-differs", "patient.born", "1991-07-04; there 1991-07-05"],
    ["female", "male", "sex-differs", "patient.sex", "female; there male"],
    ["TS-40417", "TS-4O417", "number-looks-alike", "patient.id", "TS-40417; there TS-4O417"],
    ["TS-40417", "TS-99999", "one-person-two-numbers", "patient.id", "TS-40417; there TS-99999"],
    [
      "TS-40417, name: { given: Marit",
      "TS-99999, name: { given: Marjt",
      "nearly-one-person",
      "patient.id",
      "TS-40417, Marit Solheim, 1991-07-04; there TS-99999, Marjt Solheim, 1991-07-04",
    ],
    [
      "Marit",
      "M\u00e1rit",
      "name-spelled-differently",
      "patient.name",
      "Marit Solheim; there M\u00e1rit Solheim",
    ],
  ])("%s against %s stands at its place and quotes both", (from, to, id, path, found) => {
    const { put: place } = folder();
    const one = place("1.yaml", visit("V-1", "2026-01-01", MARIT));
    place("2.yaml", visit("V-2", "2026-02-01", MARIT.replace(from, to)));
    expect(
      look()
        .problems(one)
        .map((p) => [p.id, p.path, p.found]),
    ).toEqual([[id, path, found]]);
  });

  it("about the visit alone quotes nobody else", () => {
    const { put: place } = folder();
    const one = place("1.yaml", visit("V-1", "2026-01-01", MARIT.replace("Marit", '"\u200b"')));
    const two = place("2.yaml", visit("V-2", "2026-01-01", MARIT.replace("TS-40417", "\u0422S-5")));
    expect(
      look()
        .problems(one)
        .map((p) => [p.message, p.path, p.found]),
    ).toEqual([["a name holds no letters that can be seen", "patient.name", undefined]]);
    expect(
      look()
        .problems(two)
        .map((p) => [p.id, p.severity, p.path]),
    ).toEqual([["mixed-scripts", "warning", "patient"]]);
  });

  it("is not raised by a file whose patient is unknown", () => {
    const { put: place } = folder();
    expect(look().problems(place("1.yaml", "visit: ["))).toEqual([]);
  });
});

describe("a second look", () => {
  it("keeps what it knew of people while no visit changed, and learns what did", () => {
    const { put } = folder();
    const file = put("1.yaml", visit("V-1", "2026-01-01", MARIT));
    put("2.yaml", visit("V-2", "2026-02-01", MARIT));
    const visits = new VisitFiles();
    const first = look(visits);
    const known = first.everyone(file);
    expect(known.map((p) => p.visit)).toEqual(["V-1", "V-2"]);
    const again = new VisitFiles(visits);
    const second = look(again, first);
    expect(second.everyone(file)).toBe(known);
    put("2.yaml", visit("V-2b", "2026-02-01", MARIT));
    const third = look(new VisitFiles(again), second);
    expect(third.everyone(file).map((p) => p.visit)).toEqual(["V-1", "V-2b"]);
    put("3.yaml", visit("V-3", "2026-03-01", MARIT));
    expect(
      look(new VisitFiles(), third)
        .everyone(file)
        .map((p) => p.visit),
    ).toEqual(["V-1", "V-2b", "V-3"]);
  });
});

describe("photos of two patients", () => {
  const OLE = "id: TS-5, name: { given: Ole, family: Berg }, born: 1980-01-01";
  const photo = (name: string) => `sites: [{ photos: [{ file: ${name} }] }]\n`;
  const doubts = (make: (root: string) => void, name = "p.jpg") => {
    const { put, root } = folder();
    const a = put("a/1.yaml", visit("V-1", "2026-01-01", MARIT, photo(name)));
    put("b/1.yaml", visit("V-2", "2026-01-01", OLE, photo(name)));
    make(root);
    return look()
      .problems(a)
      .map((p) => [p.id, p.path, p.found]);
  };

  it("are one when their bytes are", () => {
    const both = (root: string, ...bytes: [string, string]) =>
      ["a", "b"].forEach((where, i) => {
        writeFileSync(join(root, where, "p.jpg"), bytes[i] ?? "");
      });
    expect(doubts((root) => both(root, "one photo", "one photo"))).toEqual([
      ["photo-of-two-patients", "sites", "p.jpg"],
    ]);
    expect(doubts((root) => both(root, "one photo", "two photo"))).toEqual([]);
    expect(doubts((root) => both(root, "one photo", "one photo!"))).toEqual([]);
  });

  it("are none when they are missing, a folder, empty, or larger than a photo may be", () => {
    expect(doubts(() => {})).toEqual([]);
    expect(
      doubts((root) =>
        ["a", "b"].forEach((where) => {
          mkdirSync(join(root, where, "p.jpg"));
        }),
      ),
    ).toEqual([]);
    const sized = (bytes: number) => (root: string) => {
      for (const where of ["a", "b"]) {
        writeFileSync(join(root, where, "p.jpg"), "");
        truncateSync(join(root, where, "p.jpg"), bytes);
      }
    };
    expect(doubts(sized(0))).toEqual([]);
    expect(doubts(sized(PHOTO_LIMITS.bytes + 1))).toEqual([]);
    expect(doubts(sized(PHOTO_LIMITS.bytes))).toHaveLength(1);
  });
});

it("a reader keeps the newest visits only, and tells what it has read since it was asked", () => {
  const { put } = folder();
  const files = Array.from({ length: MOST_KEPT + 1 }, (_, i) => put(`${i}.yaml`, `visit: { id: V-${i} }\n`));
  const reader = new VisitReader(loadKnowledge(), "2027-01-01");
  const [first = "", second = ""] = files;
  const reads = files.map((file) => reader.read(file));
  expect(Object.keys(reader.takeHashes())).toEqual(files);
  expect(reader.takeHashes()).toEqual({});
  expect(reader.read(second)).toBe(reads[1]);
  expect(reader.read(first)).not.toBe(reads[0]);
  expect(reader.takeHashes()).toEqual({ [second]: reads[1]?.hash, [first]: reads[0]?.hash });
});

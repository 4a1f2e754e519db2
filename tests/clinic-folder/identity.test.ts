import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { lookAround, prepareFile } from "../../src/batch/prepare.js";
import { ClinicPeople } from "../../src/clinic-folder/clinic-people.js";
import { severityOf } from "../../src/clinic-folder/identity-problems.js";
import { tidyNumber } from "../../src/clinic-folder/tidy-number.js";
import { VisitFiles } from "../../src/clinic-folder/visit-files.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { scratch } from "../batch/command.js";
import { generateVisits } from "../batch/generate-visits.js";

interface Written {
  readonly visit?: string;
  readonly date?: string;
  readonly number?: string;
  readonly given?: string | undefined;
  readonly family?: string;
  readonly born?: string;
  readonly sex?: string;
  readonly accept?: string;
  readonly photo?: string;
}

const MARIT = {
  visit: "V-1",
  date: "2026-01-10",
  number: "TS-40417",
  given: "Marit",
  family: "Solheim",
  born: "1991-07-04",
  sex: "female",
};
const LATER = { visit: "V-2", date: "2026-06-10" };

function text(w: Written): string {
  const q = (value: string | undefined) => JSON.stringify(value ?? "");
  const name = `{ ${w.given === undefined ? "" : `given: ${q(w.given)}, `}family: ${q(w.family)} }`;
  return [
    `visit: { id: ${q(w.visit)}, date: ${w.date} }`,
    `patient: { id: ${q(w.number)}, name: ${name}, born: ${w.born}, sex: ${w.sex} }`,
    ...(w.photo ? [`sites: [{ photos: [{ file: ${w.photo} }] }]`] : []),
    ...(w.accept ? [`accept: [{ id: ${w.accept}, reason: Asked at the desk. }]`] : []),
  ].join("\n");
}

/** Doubts of each of some visits of one clinic, each in a folder of its own, as `severity id`. */
function doubtsOf(...written: readonly Written[]): string[][] {
  const folder = scratch();
  writeFileSync(join(folder, "clinic.yaml"), "");
  const files = written.map((w, i) => {
    const file = join(folder, String(i), "v.yaml");
    mkdirSync(dirname(file));
    writeFileSync(file, text(w));
    if (w.photo)
      writeFileSync(join(folder, String(i), w.photo), w.photo.startsWith("same") ? "photo" : `photo${i}`);
    return file;
  });
  const people = new ClinicPeople({ visits: new VisitFiles(), files: [], oneClinic: false });
  return files.map((file) => people.doubts(file).map((d) => `${severityOf(d)} ${d.id}`));
}

const both = (first: Written, second: Written): string[] => {
  const [a = [], b = []] = doubtsOf(first, second);
  expect(b).toEqual(a);
  return a;
};

describe("whose a visit is", () => {
  it("is told also of one that has faults of its own", () => {
    const folder = scratch();
    writeFileSync(join(folder, "clinic.yaml"), "");
    writeFileSync(join(folder, "a.yaml"), text(MARIT));
    const later = join(folder, "b.yaml");
    writeFileSync(later, `${text({ ...MARIT, ...LATER, given: "Ingrid" })}\nplan: [{ who: 3`);
    const { around } = lookAround([folder], { knowledge: loadKnowledge(), today: "2026-12-01" });
    const { value, problems } = prepareFile(later, around);
    expect(value).toBeUndefined();
    expect(problems.map(({ id }) => id)).toContain("given-differs");
    expect(problems.length).toBeGreaterThan(1);
  });
});

describe("two visits under numbers that look alike", () => {
  it.each(["V-1OO1", "v-1001", "V 1001", "V-\u0661\u0660\u0660\u0661"])(
    "are told of where they are of two patients: %s",
    (visit) => {
      const other = {
        ...MARIT,
        visit,
        date: "2026-06-10",
        number: "TS-77",
        given: "Ole",
        family: "Berg",
        born: "1980-01-01",
      };
      expect(both({ ...MARIT, visit: "V-1001" }, other)).toContain("error visit-of-two-patients");
    },
  );
});

describe("two visits under one number", () => {
  it.each<[string, Written, string[]]>([
    ["the same person", {}, []],
    ["another given name (twins)", { given: "Ingrid" }, ["error given-differs"]],
    ["another family name", { family: "Berg" }, ["error family-differs"]],
    [
      "another person altogether",
      { given: "Ole", family: "Berg", sex: "male", born: "1980-01-01" },
      ["error given-differs", "error family-differs", "error born-differs", "error sex-differs"],
    ],
    ["one figure of the birth date", { born: "1991-07-05" }, ["error born-differs"]],
    ["day and month swapped", { born: "1991-04-07" }, ["error born-differs"]],
    ["another century", { born: "1891-07-04" }, ["error born-differs"]],
    ["another sex", { sex: "male" }, ["error sex-differs"]],
    ["a sex that is not stated", { sex: "not recorded" }, []],
    ["a sex in capitals", { sex: "Female" }, []],
    ["a name in capitals", { given: "MARIT", family: "SOLHEIM" }, []],
    ["a name with a full stop or a hyphen", { given: "Marit.", family: "Solheim" }, []],
    [
      "given and family name swapped",
      { given: "Solheim", family: "Marit" },
      ["warning name-spelled-differently"],
    ],
    ["a name with an accent", { given: "Márit" }, ["warning name-spelled-differently"]],
    ["a given name left out", { given: undefined }, []],
    ["a middle initial", { given: "Marit K." }, ["error given-differs"]],
    ["a pet name", { given: "Mari" }, ["error given-differs"]],
    ["a double family name", { family: "Solheim-Adeyemi" }, ["error family-differs"]],
    [
      "a Cyrillic a in the name",
      { given: "M\u0430rit" },
      ["warning mixed-scripts", "warning name-spelled-differently"],
    ],
    ["a name in another script", { given: "\u041c\u0430\u0440\u0438\u0442" }, ["error given-differs"]],
    ["a name of invisible characters", { given: "\u200b\u200d" }, ["error name-without-letters"]],
    ["a name of figures", { family: "1234" }, ["error name-without-letters", "error family-differs"]],
  ])("%s", (_, change, wanted) => {
    const [first, second] = doubtsOf(MARIT, { ...MARIT, ...LATER, ...change });
    expect(second).toEqual(wanted);
    expect(first).toEqual(wanted.filter((d) => !/mixed-scripts|name-without-letters/u.test(d)));
  });

  it.each([
    ["Müller", "Mueller"],
    ["Müller", "Muller"],
    ["Jørgensen", "Joergensen"],
    ["Strauß", "Strauss"],
    ["Łukasz", "Lukasz"],
    ["O'Neill", "O\u2019Neill"],
    ["de la Cruz", "Cruz de la"],
  ])("%s and %s are one name in two spellings", (one, other) => {
    const found = both({ ...MARIT, family: one }, { ...MARIT, ...LATER, family: other });
    expect(found.filter((d) => d.startsWith("error"))).toEqual([]);
  });

  it("that are one person after a marriage: the later accepts it, for good and for that name alone", () => {
    const married = { ...MARIT, ...LATER, family: "Lund", accept: "family-differs" };
    const after = { ...married, visit: "V-3", date: "2027-01-01", accept: "" };
    const clean = [[], ["note family-differs"], []];
    expect(doubtsOf(MARIT, married, after)).toEqual(clean);
    const again = { ...after, visit: "V-4", date: "2028-01-01", family: "Holm" };
    expect(doubtsOf(MARIT, married, after, again).map((d) => d.filter((x) => x.startsWith("error")))).toEqual(
      [
        ["error family-differs"],
        ["error family-differs"],
        ["error family-differs"],
        ["error family-differs"],
      ],
    );
    const born = { ...married, born: "1991-07-05" };
    expect(doubtsOf(MARIT, born)[0]).toEqual(["error born-differs"]);
  });

  it("are not accepted by the earlier of the two", () => {
    const first = { ...MARIT, accept: "family-differs" };
    expect(both(first, { ...MARIT, ...LATER, family: "Lund" })).toEqual(["error family-differs"]);
  });

  it("of one day are accepted by either", () => {
    const same = { ...MARIT, visit: "V-2", family: "Lund", accept: "family-differs" };
    expect(doubtsOf(MARIT, same)).toEqual([[], ["note family-differs"]]);
    expect(doubtsOf(same, MARIT)).toEqual([["note family-differs"], []]);
  });
});

describe("two visits under two numbers", () => {
  const OTHER = { ...MARIT, ...LATER, number: "TS-88112" };
  it.each<[string, Written, string[]]>([
    ["two people", { ...OTHER, given: "Ole", family: "Berg", born: "1980-01-01" }, []],
    ["one name and birth date", OTHER, ["warning one-person-two-numbers"]],
    [
      "one name and birth date, names swapped",
      { ...OTHER, given: "Solheim", family: "Marit" },
      ["warning one-person-two-numbers"],
    ],
    [
      "one name and birth date, with an accent",
      { ...OTHER, given: "Márit" },
      ["warning one-person-two-numbers"],
    ],
    ["a namesake of another age", { ...OTHER, born: "1956-02-11" }, []],
    [
      "a namesake, a figure of the birth date another",
      { ...OTHER, born: "1991-07-05" },
      ["warning nearly-one-person"],
    ],
    ["a namesake, day and month swapped", { ...OTHER, born: "1991-04-07" }, ["warning nearly-one-person"]],
    [
      "one birth date, a letter of the name another",
      { ...OTHER, family: "Solhein" },
      ["warning nearly-one-person"],
    ],
    [
      "one birth date, two letters of the name swapped",
      { ...OTHER, family: "Solhiem" },
      ["warning nearly-one-person"],
    ],
    ["one birth date only", { ...OTHER, given: "Ole", family: "Berg" }, []],
    ["twins with their own numbers", { ...OTHER, given: "Ingrid", number: "TS-40418" }, []],
    [
      "siblings with their own numbers",
      { ...OTHER, given: "Ole", born: "1994-01-01", number: "TS-40418" },
      [],
    ],
    [
      "a number mistyped for a namesake",
      { ...OTHER, born: "1956-02-11", number: "TS-40471" },
      ["warning nearly-one-person"],
    ],
    [
      "a number mistyped after a marriage",
      { ...OTHER, family: "Lund", number: "TS-4041" },
      ["warning nearly-one-person"],
    ],
    [
      "the next number, another person",
      { ...OTHER, given: "Ole", family: "Berg", born: "1980-01-01", number: "TS-40418" },
      [],
    ],
    ["a letter O for a nought", { ...MARIT, ...LATER, number: "TS-4O417" }, ["error number-looks-alike"]],
    ["a small l for a one", { ...MARIT, ...LATER, number: "TS-404l7" }, ["error number-looks-alike"]],
    [
      "figures of another script",
      { ...MARIT, ...LATER, number: "TS-\u0664\u0660\u0664\u0661\u0667" },
      ["error number-looks-alike"],
    ],
    ["a Cyrillic T", { ...MARIT, ...LATER, number: "\u0422S-40417" }, ["error number-looks-alike"]],
    ["noughts before", { ...MARIT, ...LATER, number: "TS-0040417" }, ["error number-looks-alike"]],
    ["a space for the hyphen", { ...MARIT, ...LATER, number: "TS 40417" }, ["error number-looks-alike"]],
    ["small letters", { ...MARIT, ...LATER, number: "ts40417" }, ["error number-looks-alike"]],
    ["wide figures", { ...MARIT, ...LATER, number: "TS-\uff14\uff10417" }, ["error number-looks-alike"]],
    [
      "an invisible character",
      { ...MARIT, ...LATER, number: "TS-404\u200b17" },
      ["error number-looks-alike"],
    ],
    [
      "a look-alike number, another person",
      { ...MARIT, ...LATER, number: "TS-4O417", given: "Ole", born: "1980-01-01" },
      ["error number-looks-alike"],
    ],
    [
      "one visit number",
      { ...OTHER, visit: "V-1", given: "Ole", family: "Berg", born: "1980-01-01" },
      ["error visit-of-two-patients"],
    ],
  ])("%s", (_, other, wanted) => {
    const [first, second] = doubtsOf(MARIT, other);
    expect(first).toEqual(wanted);
    expect(second?.filter((d) => d !== "warning mixed-scripts")).toEqual(wanted);
  });

  it("may be accepted on either side", () => {
    const accept = "one-person-two-numbers";
    expect(both(MARIT, { ...OTHER, accept })).toEqual([`note ${accept}`]);
    expect(both({ ...MARIT, accept }, OTHER)).toEqual([`note ${accept}`]);
  });

  it("that hold one photo are not made", () => {
    const ole = { ...OTHER, given: "Ole", family: "Berg", born: "1980-01-01" };
    expect(both({ ...MARIT, photo: "same-a.jpg" }, { ...ole, photo: "same-b.jpg" })).toEqual([
      "error photo-of-two-patients",
    ]);
    expect(both({ ...MARIT, photo: "a.jpg" }, { ...ole, photo: "b.jpg" })).toEqual([]);
    expect(both({ ...MARIT, photo: "same-a.jpg" }, { ...MARIT, ...LATER, photo: "same-b.jpg" })).toEqual([]);
  });
});

it("two files of one visit are named, since one would be printed over the other", () => {
  expect(both(MARIT, { ...MARIT, date: "2026-01-11" })).toEqual(["warning visit-twice"]);
});

it("a clinic within a clinic's folder has numbers of its own, unless one clinic file is named for both", () => {
  const folder = scratch();
  const put = (name: string, content: string) => {
    mkdirSync(dirname(join(folder, name)), { recursive: true });
    writeFileSync(join(folder, name), content);
    return join(folder, name);
  };
  put("clinic.yaml", "");
  put("north/clinic.yaml", "");
  const files = [put("a.yaml", text(MARIT)), put("north/b.yaml", text({ ...MARIT, ...LATER, given: "Ole" }))];
  const ids = (oneClinic: boolean) => {
    const people = new ClinicPeople({ visits: new VisitFiles(), files, oneClinic });
    return files.map((file) => people.doubts(file).map((d) => d.id));
  };
  expect(ids(false)).toEqual([[], []]);
  expect(ids(true)).toEqual([["given-differs"], ["given-differs"]]);
});

it.each([
  ["TS-40417", "TS-40417"],
  ["ts 0040417", "TS-40417"],
  ["1-01", "1-1"],
  ["10-1", "10-1"],
  ["000", "0"],
  ["A\u200bB", "AB"],
])("the number %j is %s without what the eye passes over", (number, tidy) => {
  expect(tidyNumber(number)).toBe(tidy);
});

describe("no alarm", () => {
  const knowledge = loadKnowledge();
  it.each([
    ["the examples", () => inPackage("examples", "patients")],
    ["300 visits of distinct people", () => generateVisits(scratch(), 300).folder],
  ])("is raised by %s", (_, folder) => {
    const { around, files } = lookAround([folder()], { knowledge, today: "2028-01-01" });
    expect(files.length).toBeGreaterThan(15);
    expect(files.flatMap((file) => around.people.problems(file))).toEqual([]);
  });
});

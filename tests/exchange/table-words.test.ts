/** Tables told to the letter: the text of a visit, each problem whole, where each came from, and the smallest of everything. */
import iconv from "iconv-lite";
import { describe, expect, it } from "vitest";
import { readMapping, type TableMapping, tableToVisits } from "../../src/exchange/exchange.js";
import { placeAt } from "../../src/exchange/schema-place.js";
import { applyingConstants, buildVisit, groupBy } from "../../src/exchange/table-build.js";
import { decodeTable } from "../../src/exchange/table-decode.js";
import { cellsOf, findDelimiter, whyNoCells } from "../../src/exchange/table-detect.js";
import { foldCell } from "../../src/exchange/table-mapping.js";
import { asKeys, placeKey, ROW_SITE, readPlace, stepKey } from "../../src/exchange/table-place.js";
import { line, remark, withComment } from "../../src/exchange/yaml-line.js";
import { visitJsonSchema } from "../../src/visit/json-schema.js";
import { visitWords } from "../../src/visit/visit-words.js";
import { testKnowledge as knowledge } from "../visit/test-knowledge.js";

const mappingFrom = (text: string): TableMapping => {
  const { value, problems } = readMapping(text, "m.yaml", knowledge);
  if (!value) throw new Error(problems.map((p) => p.message).join("\n"));
  return value;
};
const MAPPING = `format: 1
columns:
  No: visit.id
  Day: visit.date
  Patient: patient.id
  Family: patient.name.family
  Given: patient.name.given
  Born: patient.born
  Where: site
  Dots: { to: "site.findings.yellow dots", values: { "0": none, "+ +": few } }
  Long: site.patch.length_mm
  Wide: site.patch.width_mm
  Second: send_to[1].name
  First: send_to[0].name
  Drugs: history.medicines
constants:
  patient.sex: female
  visit.seen_by: runa
  visit.reason: Patch.
  visit.status: draft
  send_to[0].role: practice
  send_to[1].role: clinic
  history.duration_weeks: "6"
  site.patch.margin: sharp
ignore: [Left out]
empty: ["N / A"]
`;
const HEADER = "No,Day,Patient,Family,Given,Born,Where,Dots,Long,Wide,Second,First,Drugs";
const LIND = "P-1,Lind,Ada,1990-03-02";
const read = (lines: readonly string[], mapping = MAPPING, header = HEADER) =>
  tableToVisits(Buffer.from([header, ...lines].join("\n")), mappingFrom(mapping), knowledge, "t.csv");
const errorsOf = ({ rows }: ReturnType<typeof read>) =>
  rows.map(({ row, problems }) => ({ row, errors: problems.filter((p) => p.severity === "error") }));
const told = (result: ReturnType<typeof read>) =>
  errorsOf(result).map(({ row, errors }) => [
    row,
    ...errors.map((p) => `${p.row} ${p.tableColumn ?? "-"}: ${p.message}`),
  ]);

describe("the rows of one visit", () => {
  it("become its text in the order of the file, each constant where its map is filled", () => {
    const { rows, detected, problems } = read([
      `V-1,2026-03-12,${LIND},vertex,+  +,12,9,,Dr Brandt,minoxidil; zinc`,
      `V-1,2026-03-12,${LIND},nape,n /  A,,,,,`,
    ]);
    expect(problems).toEqual([]);
    expect(detected).toEqual({
      encoding: "UTF-8",
      encodingKnown: "certain",
      delimiter: "comma",
      decimal: "none seen",
      dates: "year-month-day",
      rows: 2,
      unusedColumns: [],
    });
    expect(rows[0]?.problems.filter((p) => p.severity === "error")).toEqual([]);
    expect(rows.map(({ row, file, visitText }) => [row, file, visitText])).toEqual([
      [
        2,
        "P-1/V-1.yaml",
        `# From rows 2, 3 of t.csv.
format: 1
visit:
  id: V-1
  date: 2026-03-12
  status: draft
  seen_by: runa
  reason: Patch.
patient:
  id: P-1
  name:
    given: Ada
    family: Lind
  born: 1990-03-02
  sex: female
send_to:
  - role: practice
    name: Dr Brandt
history:
  duration_weeks: 6
  medicines:
    - minoxidil
    - zinc
sites:
  - site: vertex
    patch:
      length_mm: 12
      width_mm: 9
      margin: sharp
    findings:
      yellow dots: few
  - site: nape
    findings: {}
`,
      ],
    ]);
  });

  it("disagree by value and row, and repeat without harm", () => {
    const result = read([
      `V-1,2026-03-12,${LIND},vertex,0,,,,,`,
      `V-1,2026-03-12,P-1,Berg,Ada,1990-03-02,nape,0,,,,,`,
    ]);
    expect(told(result)).toEqual([[2, '3 Family: "Berg" here, "Lind" in row 2, for the same visit']]);
    expect(result.rows[0]?.problems[0]).toEqual({
      severity: "error",
      id: "rows-disagree",
      message: '"Berg" here, "Lind" in row 2, for the same visit',
      row: 3,
      tableColumn: "Family",
      file: "t.csv",
    });
    expect(result.rows[0]?.visitText).toBeUndefined();
  });

  it("without a number stand each for themselves", () => {
    const result = read([`,2026-03-12,${LIND},vertex,0,,,,,`, `,2026-03-12,${LIND},nape,0,,,,,`]);
    expect(
      errorsOf(result).map(({ row, errors }) => [row, errors.map((p) => `${p.id} ${p.tableColumn}`)]),
    ).toEqual([
      [2, ["missing-key No"]],
      [3, ["missing-key No"]],
    ]);
  });
});

it("keeps the noughts of a patient's number, and what stands after a point in that of a visit", () => {
  const { rows } = read([
    `7.10,2026-03-12,${LIND.replace("P-1", "00417")},vertex,0,,,,,`,
    `1.234,2026-03-12,${LIND.replace("P-1", "0417")},vertex,0,,,,,`,
  ]);
  expect(rows.map(({ file }) => file)).toEqual(["00417/7.10.yaml", "0417/1.234.yaml"]);
});

describe("a row", () => {
  it.each([
    ["P-1,Lind,Ada,1990-02-30,vertex,0,,,,,", "2 Born: there is no 1990-02-30"],
    [`${LIND},vertx,0,,,,,`, '2 Where: "vertx" is not a region of the scalp; perhaps vertex'],
    [`${LIND},elbow,0,,,,,`, '2 Where: "elbow" is not a region of the scalp'],
    [`${LIND},,0,,,,,`, '2 Dots: no region in "Where" for this finding'],
    [`${LIND},vertex,0,,,,,,stray`, "2 -: 14 cells under 13 columns"],
    [`${LIND},vertex,0,,,,,,`, undefined],
    [`${LIND},vertex,0,12,,,,`, "2 Wide: "],
  ])("%s", (cells, problem) => {
    const [told1 = [], ...more] = told(read([`V-1,2026-03-12,${cells}`]));
    expect(more).toEqual([]);
    if (problem === undefined) expect(told1).toEqual([2]);
    else expect(String(told1[1]).startsWith(problem)).toBe(true);
    expect(told1.length).toBe(problem === undefined ? 1 : 2);
  });

  it("with the other decimal sign says which sign the table has", () => {
    const lines = [`V-1;2026-03-12;${LIND.replaceAll(",", ";")};vertex;0;1.5;9,5;;;`];
    const header = HEADER.replaceAll(",", ";");
    expect(told(read(lines, `${MAPPING}read: { decimal: comma }\n`, header))[0]?.slice(0, 2)).toEqual([
      2,
      '2 Long: "1.5" where this table writes a decimal comma',
    ]);
    expect(told(read(lines, `${MAPPING}read: { decimal: point }\n`, header))[0]?.slice(0, 2)).toEqual([
      2,
      '2 Wide: "9,5" where this table writes a decimal point',
    ]);
  });

  it("of a patient already met has the same birthday and name, and a visit number of its own", () => {
    const result = read([
      `V-1,2026-03-12,${LIND},vertex,0,,,,,`,
      "V-2,2026-03-13,P-1,Lind,Ada,1990-03-03,vertex,0,,,,,",
      "V-3,2026-03-13,P-1,Lund,Ada,1990-03-02,vertex,0,,,,,",
      `V-4,2026-03-14,${LIND},vertex,0,,,,,`,
    ]);
    expect(told(result)).toEqual([
      [2],
      [3, "3 -: patient P-1 was born on 1990-03-03 here and on 1990-03-02 in row 2"],
      [4, "4 -: patient P-1 has another name in row 2"],
      [5],
    ]);
    expect(result.rows.map((r) => r.visitText !== undefined)).toEqual([true, false, false, true]);
  });
});

describe("a table as a whole", () => {
  const whole = (header: string, lines: readonly string[], mapping = MAPPING) =>
    read(lines, mapping, header).problems.map(
      ({ severity, id, message, expected, suggestion, file, line: at }) =>
        JSON.parse(JSON.stringify({ severity, id, message, expected, suggestion, file, at })),
    );
  const at = { file: "t.csv" };
  it.each([
    [
      "unused columns, those left out on purpose not among them",
      whole(`${HEADER},Left out,More,,Rest`, ["x"]),
      [
        {
          ...at,
          severity: "note",
          id: "columns-unused",
          message: "columns that the mapping does not use: More, Rest",
        },
      ],
    ],
    [
      "a column twice, and no rows",
      whole(`${HEADER},No,No`, [" , "]),
      [
        {
          ...at,
          severity: "error",
          id: "column-twice",
          message: 'the column "No" stands in the header 3 times',
        },
        { ...at, severity: "error", id: "table-empty", message: "no rows below the header" },
      ],
    ],
    [
      "a column missing",
      whole(HEADER.replace("Born", "Borne"), ["x"]),
      [
        {
          ...at,
          severity: "error",
          id: "column-missing",
          message: 'no column "Born", which the mapping names',
          expected: HEADER.replace("Born", "Borne").replaceAll(",", ", "),
          suggestion: "Borne",
        },
        {
          ...at,
          severity: "note",
          id: "columns-unused",
          message: "columns that the mapping does not use: Borne",
        },
      ],
    ],
    [
      "dates that may be read in two ways",
      whole(HEADER, ["V-1,04/04/2026,P,L,A,03/04/1990"]),
      [
        {
          ...at,
          severity: "error",
          id: "dates-unclear",
          message: '"03/04/1990" may have the day or the month first, and no other date decides',
          expected: "dates: day-month-year or dates: month-day-year under read: of the mapping",
        },
      ],
    ],
    [
      "numbers that may be read in two ways",
      whole(HEADER, ["V-1,2026-04-04,P,L,A,1990-03-04,vertex,0,1.234,2"]),
      [
        {
          ...at,
          severity: "error",
          id: "decimal-unclear",
          message: '"1.234" may be read with a decimal comma or a point',
          expected: "decimal: comma or decimal: point under read: of the mapping",
        },
      ],
    ],
    [
      "quotes that do not match",
      whole(HEADER, ['V-1,"open', "x"]),
      [
        {
          ...at,
          severity: "error",
          id: "table-syntax",
          message: "a quotation mark that opens or closes nothing",
          at: 3,
        },
      ],
    ],
  ])("%s", (_what, problems, expected) => {
    expect(problems).toEqual(expected);
  });

  it("read by guess shows six words with letters of doubt, each once", () => {
    const names = ["Ågot", "Bø", "Cæsar", "Dé", "Éa", "Fü", "Gö"].map(
      (name) => `V-1,,P,${name} Plain,${name}`,
    );
    const bytes = iconv.encode([HEADER, ...names].join("\n"), "windows-1252");
    const [problem] = tableToVisits(bytes, mappingFrom(MAPPING), knowledge, "t.csv").problems;
    expect(problem).toEqual({
      severity: "warning",
      id: "encoding-guessed",
      message:
        "read as windows-1252 by guess; look whether these words are right: Ågot, Bø, Cæsar, Dé, Éa, Fü",
      file: "t.csv",
      expected: "encoding: under read: of the mapping, to be sure",
    });
  });
});

describe("a mapping", () => {
  const problemsOf = (text: string) =>
    readMapping(text, "m.yaml", knowledge).problems.map(
      ({ id, message, found, expected, suggestion, line: at }) =>
        [at, id, message, found ?? "", expected ?? "", suggestion ?? ""].join(" | "),
    );
  const withPlace = (place: string) => problemsOf(MAPPING.replace("Day: visit.date", `Day: "${place}"`));
  it.each([
    ["visit.dat", '4 | unknown-place | "visit.dat" is not a place of a visit file | visit.dat |  | date'],
    [
      "visits.date",
      '4 | unknown-place | "visits.date" is not a place of a visit file | visits.date |  | visit',
    ],
    ["qqq", '4 | unknown-place | "qqq" is not a place of a visit file | qqq |  | '],
    ["visit.", '4 | unknown-place | "visit." is not a place of a visit file | visit. |  | '],
    [
      "sites[elbow].notes",
      '4 | unknown-place | "elbow" is not a region of the scalp | sites[elbow].notes |  | ',
    ],
    [
      "send_to[x].name",
      '4 | unknown-place | "[x]" after send_to must be a number, counted from 0 | send_to[x].name |  | ',
    ],
    [
      "patient.name",
      '4 | place-too-wide | "patient.name" holds several keys; name one | patient.name | title, given, family | ',
    ],
    ["visit.id", '4 | place-twice | "visit.id" is filled by column "No" already | visit.id |  | '],
  ])("with %s", (place, problem) => {
    expect(withPlace(place)).toEqual([problem]);
  });

  it("fills no place twice by a constant either, nor with an encoding there is not", () => {
    expect(problemsOf(MAPPING.replace("patient.sex:", "visit.id:"))).toEqual([
      '17 | place-twice | "visit.id" is filled by column "No" already | visit.id |  | ',
    ]);
    expect(problemsOf(`${MAPPING}read: { encoding: klingon }\n`)).toEqual([
      '27 | unknown-encoding | "klingon" is not an encoding known here |  |  | ',
    ]);
    expect(problemsOf(`${MAPPING}read: { encoding: latin1 }\n`)).toEqual([]);
  });

  it("has its places, kinds and folded words ready", () => {
    const { columns, constants, empty, ignore } = mappingFrom(MAPPING);
    expect(
      columns.map(({ column, kind, ofRow }) => `${column} ${kind}${ofRow ? " of the row" : ""}`),
    ).toEqual([
      "No text",
      "Day date",
      "Patient text",
      "Family text",
      "Given text",
      "Born date",
      "Where word of the row",
      "Dots word of the row",
      "Long number of the row",
      "Wide number of the row",
      "Second text",
      "First text",
      "Drugs texts",
    ]);
    expect(columns.find((c) => c.column === "Dots")?.values).toEqual({ "0": "none", "+ +": "few" });
    expect(constants.map(({ value }) => value)).toEqual([
      "female",
      "runa",
      "Patch.",
      "draft",
      "practice",
      "clinic",
      6,
      "sharp",
    ]);
    expect([empty, ignore]).toEqual([["n / a"], ["Left out"]]);
    expect(foldCell("  A\u0301  B ")).toBe("á b");
  });
});

describe("places", () => {
  const { regions } = visitWords(knowledge);
  it("are steps, by number, by region, or of the row's own site", () => {
    expect(readPlace(" visit.date ", regions)).toEqual({ steps: ["visit", "date"] });
    expect(readPlace("send_to[12].name", regions)).toEqual({ steps: ["send_to", 12, "name"] });
    expect(readPlace("sites[Crown].notes", regions)).toEqual({
      steps: ["sites", { region: "vertex" }, "notes"],
    });
    expect(readPlace("sites[0].notes", regions)).toEqual({ steps: ["sites", 0, "notes"] });
    expect(readPlace("site", regions)).toEqual({ steps: ["sites", ROW_SITE, "site"] });
    expect(readPlace("site.notes", regions)).toEqual({ steps: ["sites", ROW_SITE, "notes"] });
    expect(readPlace("sitel", regions)).toEqual({ steps: ["sitel"] });
    expect(readPlace("send_to[1234].name", regions)).toEqual({
      fault: '"[1234]" after send_to must be a number, counted from 0',
    });
  });

  it("are compared by their keys", () => {
    expect([stepKey("a"), stepKey(0), stepKey({ region: "nape" })]).toEqual(["a", "[0]", "[nape]"]);
    expect(asKeys(["sites", { region: "nape" }, "at", 3])).toEqual(["sites", 0, "at", 3]);
    expect(placeKey(["a", 1])).not.toBe(placeKey(["a[1]"]));
  });

  it("hold what the schema says", () => {
    const schema = visitJsonSchema(knowledge);
    const kinds = [
      ["visit"],
      ["sites"],
      ["visit", "date"],
      ["history", "duration_weeks"],
      ["patient", "large_print"],
      ["patient", "sex"],
      ["history", "medicines"],
      ["patient", "address"],
      ["visit", "reason"],
      ["sites", 0, "findings", "yellow dots"],
      ["visit", "nothing"],
      ["visit", 0],
    ].map((path) => placeAt(schema, path)?.kind);
    expect(kinds).toEqual([
      "map",
      "list",
      "date",
      "number",
      "yes-no",
      "word",
      "texts",
      "texts",
      "text",
      "word",
      undefined,
      undefined,
    ]);
    expect(placeAt(schema, ["patient", "sex"])).toMatchObject({
      keys: [],
      words: expect.arrayContaining(["female"]),
    });
    expect(placeAt(schema, ["patient", "name"])?.keys).toEqual(["title", "given", "family"]);
  });
});

describe("building a visit", () => {
  const schema = visitJsonSchema(knowledge);
  const filled = (steps: Parameters<typeof placeKey>[0], value: unknown) => ({
    steps,
    kind: "text" as const,
    value,
  });
  it("keeps the order of the file, numbered entries by number, unknown keys last, and where each came from", () => {
    const b = filled(["send_to", 1, "name"], "B");
    const { value, origins } = buildVisit(
      [
        filled(["unheard of"], 1),
        b,
        filled(["sites", { region: "nape" }, "notes"], "n"),
        filled(["send_to", 0, "name"], "A"),
        filled(["sites", { region: "vertex" }, "notes"], "v"),
        filled(["visit", "id"], "V"),
      ],
      schema,
    );
    expect(JSON.stringify(value)).toBe(
      '{"visit":{"id":"V"},"send_to":[{"name":"A"},{"name":"B"}],"sites":[{"site":"nape","notes":"n"},{"site":"vertex","notes":"v"}],"unheard of":1}',
    );
    expect([...origins.keys()]).toEqual([
      "visit.id",
      "send_to[0].name",
      "send_to[1].name",
      "sites[0].notes",
      "sites[1].notes",
      "unheard of",
    ]);
    expect(origins.get("send_to[1].name")).toBe(b);
  });

  it("lets a constant wait where a column could fill its map, and copies one of the row's site to each", () => {
    const constants = [
      filled(["send_to", 0, "role"], "practice"),
      filled(["visit", "reason"], "Patch."),
      filled(["sites", ROW_SITE, "notes"], "n"),
    ].map((c) => ({ ...c, value: String(c.value) }));
    const columns = [{ steps: ["send_to", 0, "name"] }, { steps: ["sites", ROW_SITE, "patch", "length_mm"] }];
    const at = (region: string) => filled(["sites", { region }, "patch", "length_mm"], 3);
    const names = (list: readonly { steps: Parameters<typeof placeKey>[0] }[]) =>
      list.map((f) => f.steps.map(stepKey).join("."));
    expect(names(applyingConstants(constants, columns, [at("nape"), at("nape")]))).toEqual([
      "visit.reason",
      "sites.[nape].notes",
    ]);
    expect(names(applyingConstants(constants, columns, [at("nape"), at("vertex")]))).toEqual([
      "visit.reason",
      "sites.[nape].notes",
      "sites.[vertex].notes",
    ]);
    expect(names(applyingConstants(constants, columns, [filled(["send_to", 0, "address"], "x")]))).toEqual([
      "send_to.[0].role",
      "visit.reason",
    ]);
  });

  it("groups in the order first met", () => {
    expect([...groupBy([3, 1, 4, 1, 5], (n) => (n % 2 ? "odd" : "even"))]).toEqual([
      ["odd", [3, 1, 1, 5]],
      ["even", [4]],
    ]);
  });
});

describe("bytes and lines", () => {
  const half = (share: number) =>
    Buffer.from([..."a".repeat(100)].map((c, i) => (i % 2 === 1 && i < share ? 0 : c.charCodeAt(0))));
  it("are UTF-16 without a mark where more than a quarter are zero, all on one side", () => {
    expect(decodeTable(half(52)).encoding).toBe("UTF-16LE");
    expect(decodeTable(half(50)).encoding).toBe("UTF-8");
    expect(decodeTable(Buffer.from([0, 0, 97, 0])).encoding).toBe("UTF-8");
    expect(decodeTable(iconv.encode("abcd", "UTF-16BE")).encoding).toBe("UTF-16BE");
    expect(decodeTable(Buffer.from([0xff, 0xfe, 97, 0])).text).toBe("a");
    expect(decodeTable(Buffer.from([0xfe, 0xff, 0, 97])).text).toBe("a");
    expect(decodeTable(Buffer.from([0xe5]), "latin1")).toEqual({
      text: "å",
      encoding: "latin1",
      known: "stated",
    });
  });

  it("tell the delimiter by the columns wanted, then by their number, from the first line alone", () => {
    expect(findDelimiter("a;b;c,d\n1,2,3,4,5,6", [])).toBe(";");
    expect(findDelimiter("a;b;c,d", ["a;b;c"])).toBe(",");
    expect(findDelimiter("a|b\r\n1;2;3", [])).toBe("|");
    expect(findDelimiter("one", [])).toBe(",");
    expect(findDelimiter('"a;b', ["b"])).toBe(";");
  });

  it("that cannot be cut say why, with the line", () => {
    const why = (text: string) => {
      try {
        return cellsOf(text, ",");
      } catch (error) {
        return whyNoCells(error);
      }
    };
    const quotes = "a quotation mark that opens or closes nothing";
    expect(why('a\n"b')).toEqual({ message: quotes, line: 2 });
    expect(why('a\nb"c"')).toEqual({ message: quotes, line: 2 });
    expect(why('"a"b')).toEqual({ message: quotes, line: 1 });
    expect(whyNoCells(new Error("else"))).toEqual({ message: "not readable as a table" });
  });

  it("of YAML keep their comment in one column, or before them where it is long", () => {
    expect(line(2, "key", "a: b", "short")).toBe(`${'  key: "a: b"'.padEnd(36)}# short`);
    expect(line(0, "- key", [1, "x"])).toBe("- key: [ 1, x ]".replace("[ 1, x ]", "[1, x]"));
    expect(line(4, "key")).toBe("    key:");
    expect(withComment("x".repeat(40), "c")).toBe(`${"x".repeat(40)}  # c`);
    const most = "c".repeat(118 - 36 - 2);
    expect(withComment("a", most)).toBe(`${"a".padEnd(36)}# ${most}`);
    expect(withComment("  a", `${most}c`)).toBe(`  # ${most}c\n  a`);
    expect(withComment("a", "")).toBe("a");
    expect(remark(2, `one  ${"y".repeat(110)} two`)).toEqual([`  # one ${"y".repeat(110)}`, "  # two"]);
    expect(remark(0, `${"y".repeat(116)} z`)).toEqual([`# ${"y".repeat(116)}`, "# z"]);
    expect(remark(0, " ")).toEqual([]);
  });
});

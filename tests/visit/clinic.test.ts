import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { type Clinic, checkAgainstClinic, parseClinic, readClinic } from "../../src/visit/clinic.js";
import { parseVisit } from "../../src/visit/read.js";
import { testKnowledge } from "./test-knowledge.js";

const TEXT = `name: Skerry Hair Room
lines: [7 Slipway, Tarn Sound, TS9 8ZZ]
phone: 01632 960777
logo: art/logo.svg
paper: us letter
language: nb
address_window: DIN-5008-B
fold_marks: yes
people:
  runa-sandvik: { name: Dr Runa Sandvik, role: Dermatologist, registration: TS-D-1, may_sign: true }
  wen-castellane: { name: Wen Castellane, role: Secretary }
emergency:
  - { label: Night line, number: 01632 960778, country: no }
late_after: { culture: { weeks: 6 }, histology: { weeks: 1, days: 3 }, swab: { days: 0 } }
confidentiality: For the reader named, from {clinic}.
`;

const ids = (text: string) => parseClinic(text, "clinic.yaml").problems.map((p) => `${p.line}:${p.id}`);

describe("a clinic file", () => {
  test("is read with its words, people and house choices", () => {
    const { value, problems } = parseClinic(TEXT, "clinic.yaml");
    expect(problems).toEqual([]);
    expect(value).toEqual({
      name: "Skerry Hair Room",
      lines: ["7 Slipway", "Tarn Sound", "TS9 8ZZ"],
      phone: "01632 960777",
      logo: "art/logo.svg",
      people: {
        "runa-sandvik": {
          name: "Dr Runa Sandvik",
          role: "Dermatologist",
          registration: "TS-D-1",
          maySign: true,
        },
        "wen-castellane": { name: "Wen Castellane", role: "Secretary", maySign: false },
      },
      paper: "Letter",
      language: "nb",
      addressWindow: "din-5008-b",
      foldMarks: true,
      emergency: [{ label: "Night line", number: "01632 960778", country: "NO" }],
      copyToPatient: false,
      lateAfter: { culture: 42, histology: 10, swab: 0 },
      confidentiality: "For the reader named, from {clinic}.",
    } satisfies Clinic);
  });

  test("keeps logo and templates in its own folder, and names them from there", () => {
    const folder = mkdtempSync(join(tmpdir(), "whorl-clinic-"));
    writeFileSync(join(folder, "clinic.yaml"), TEXT);
    expect(readClinic(join(folder, "clinic.yaml")).value?.logo).toBe(join(folder, "art/logo.svg"));
    expect(ids(TEXT.replace("art/logo.svg", "../logo.svg"))).toEqual(["4:bad-path"]);
  });

  test("the one of the examples is read without a problem", () => {
    expect(readClinic(inPackage("examples", "clinic.yaml")).problems).toEqual([]);
  });

  test.each([
    ["no name", TEXT.replace("name: Skerry Hair Room\n", ""), ["1:missing-key"]],
    ["a phone that cannot be dialled", TEXT.replace("01632 960777", "ask at the desk"), ["3:bad-phone"]],
    ["a usual time that is none", TEXT.replace("{ weeks: 6 }", "6 weeks"), ["14:wrong-shape"]],
    ["an e-mail that is none", TEXT.replace("logo:", "email: desk\nlogo:"), ["4:bad-email"]],
    ["a country by name", TEXT.replace("country: no", "country: Norway"), ["13:bad-country"]],
    ["an unknown window", TEXT.replace("DIN-5008-B", "din-5009"), ["7:unknown-word"]],
    ["a misspelt key", TEXT.replace("fold_marks", "foldmarks"), ["8:unknown-key"]],
    ["a person without a role", TEXT.replace(", role: Secretary", ""), ["11:missing-key"]],
    ["a person with a slash in the key", TEXT.replace("wen-castellane:", "wen/castellane:"), ["11:bad-id"]],
    ["nobody who signs", TEXT.replace("may_sign: true", "may_sign: false"), ["9:nobody-signs"]],
    ["a signer without registration", TEXT.replace(" registration: TS-D-1,", ""), ["10:no-registration"]],
    ["no line for urgent help", TEXT.replace(/emergency:\n.*\n/u, ""), ["1:no-emergency"]],
  ])("with %s", (_what, text, expected) => {
    expect(ids(text)).toEqual(expected);
  });
});

describe("a visit against its clinic", () => {
  const clinic = parseClinic(TEXT, "clinic.yaml").value;
  const check = (seenBy: string, status: string) => {
    const text = `visit: { id: A1, date: 2026-05-05, status: ${status}, seen_by: ${seenBy}, reason: x }
patient: { id: P1, name: { family: Sandvik }, born: 1991-07-04, sex: female }
impression: [{ disorder: alopecia areata, certainty: probable }]
`;
    const { value: visit, places } = parseVisit(text, "visit.yaml", testKnowledge);
    expect(visit).toBeDefined();
    return visit && clinic ? checkAgainstClinic(visit, clinic, places) : [];
  };

  test("is content with a person who signs", () => {
    expect(check("runa-sandvik", "signed")).toEqual([]);
    expect(check("wen-castellane", "draft")).toEqual([]);
  });
  test("points at a key that is nobody, with the nearest", () => {
    expect(check("runa-sandvk", "draft")[0]).toMatchObject({
      id: "unknown-person",
      line: 1,
      column: 60,
      suggestion: "runa-sandvik",
    });
    expect(check("castellane", "draft")[0]).toMatchObject({
      id: "unknown-person",
      suggestion: "wen-castellane",
    });
    expect(check("constructor", "draft")[0]).toMatchObject({ id: "unknown-person" });
  });
  test("stops a signature of one who does not sign", () => {
    expect(check("wen-castellane", "signed")[0]).toMatchObject({ id: "may-not-sign", severity: "error" });
  });
});

describe("what a clinic file leaves out", () => {
  const without = (...lines: string[]) =>
    TEXT.split("\n")
      .filter((line) => !/^(?:paper|language|address_window|fold_marks|late_after):/u.test(line))
      .concat(lines)
      .join("\n");
  const of = (...lines: string[]) => parseClinic(without(...lines), "clinic.yaml").value;

  test("is the ordinary: A4, British English, no window, no fold marks", () => {
    expect(of()).toMatchObject({
      paper: "A4",
      language: "en-GB",
      addressWindow: "none",
      foldMarks: false,
    });
  });
  test.each([
    ["en-US", "Letter"],
    ["en-us", "Letter"],
    ["en-GB", "A4"],
    ["de", "A4"],
  ])("in %s the paper is %s", (language, paper) => {
    expect(of(`language: ${language}`)?.paper).toBe(paper);
  });
  test("is no reason to change the paper that is named", () => {
    expect(of("language: en-US", "paper: A4")?.paper).toBe("A4");
  });
  test("a telephone number may have spaces about it", () => {
    const text = TEXT.replace("phone: 01632 960777", 'phone: " 01632 960777  "');
    expect(parseClinic(text, "clinic.yaml").value?.phone).toBe("01632 960777");
  });
});

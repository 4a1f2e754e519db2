import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { scanVisit } from "../../src/clinic-folder/scan.js";
import { scratch } from "../batch/command.js";

const scanned = (text: string | Uint8Array) => {
  const file = join(scratch(), "v.yaml");
  writeFileSync(file, text);
  return scanVisit(file);
};
const identity = (text: string) => scanned(text).identity;

describe("whose visit it is", () => {
  const wanted = {
    visit: "V-1",
    date: "2026-01-02",
    patient: "0141",
    given: "Oda",
    family: "Farrow",
    born: "1990-02-03",
    sex: "female",
    accepts: ["born-differs"],
  };
  const accept = "accept:\n- { id: born-differs, reason: Asked again. }\n- { id: sex-differs }\n";

  it.each([
    `visit:\n  id: V-1\n  date: 2026-01-02\npatient:\n  id: 0141\n  name: { given: Oda, family: Farrow }\n  born: 1990-02-03\n  sex: female\n${accept}sites: []\n`,
    `format: 1\npatient: { id: 0141, born: 1990-02-03, sex: female,\n  name: { family: Farrow, given: Oda } }\n# note\n${accept}visit: { id: V-1, date: 2026-01-02 }\n`,
    `visit: { id: V-1, date: 2026-01-02 }\npatient: { id: 0141, born: 1990-02-03, sex: female, name: { family: Farrow, given: Oda } }\n"accept": [{ id: born-differs, reason: x }]\n`,
    '{"visit": {"id": "V-1", "date": "2026-01-02"}, "patient": {"id": "0141", "born": "1990-02-03", "sex": "female", "name": {"given": "Oda", "family": "Farrow"}}, "accept": [{"id": "born-differs", "reason": "x"}]}',
    `x: &a { id: 0141, born: 1990-02-03, sex: female, name: { given: Oda, family: Farrow } }\nvisit: { id: V-1, date: 2026-01-02 }\npatient: *a\n${accept}`,
  ])("is read in every style (%#)", (text) => {
    expect(identity(text)).toEqual(wanted);
    expect(identity(text.replaceAll("\n", "\r\n"))).toEqual(wanted);
  });

  it("leaves empty what is left out", () => {
    expect(identity("visit: { id: V-1 }\npatient: { id: P }\n")).toEqual({
      visit: "V-1",
      date: "",
      patient: "P",
      given: "",
      family: "",
      born: "",
      sex: "",
      accepts: [],
    });
  });

  it.each([
    "",
    "visit: [",
    "patient: &a [*a, *a]",
    "visit: { id: {} }",
    "\0",
    "visit: { id: V-1 }\npatient: { id: '' }\n",
  ])("is unknown in %j", (text) => {
    expect(identity(text)).toBeUndefined();
  });
});

describe("whether a file holds a visit", () => {
  it.each([
    ["visit: x", true],
    ["  patient = 3", true],
    ['{"visit": {}}', true],
    ["'visit' : 3", true],
    ["\ufeffvisit: {}", true],
    ["colour: red", false],
    ["visitors: 3", false],
    ["", false],
  ])("%j: %s", (text, holds) => {
    expect(scanned(text).holdsVisit).toBe(holds);
  });

  it("is taken as true of what cannot be read, so that the reader names it", () => {
    const whole = Buffer.from("visit: {}\n");
    const utf32 = Buffer.alloc(whole.length * 4);
    for (const [i, byte] of whole.entries()) utf32.writeUInt32LE(byte, i * 4);
    for (const bytes of [utf32, Buffer.concat([Buffer.from([0xff, 0xfe, 0, 0]), utf32]), Buffer.from([0xff])])
      expect(scanned(bytes)).toMatchObject({ holdsVisit: true, readable: false });
    expect(scanVisit(join(scratch(), "gone.yaml"))).toMatchObject({ holdsVisit: true, readable: false });
  });
});

it("names the photos as written, and hashes the text", () => {
  const a = scanned("visit: {}\nsites: [{ photos: [{ file: photos/a.jpg }, { file: 'b c.jpg' }] }]\n");
  expect(a.photos).toEqual(["photos/a.jpg", "b c.jpg"]);
  expect(a.hash).not.toBe(scanned("visit: {}").hash);
  expect(scanned("visit: {}").hash).toBe(scanned("\ufeffvisit: {}").hash);
});

/** A clinic file on its own: what would keep it from its letters is said at its own line. */
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { checkClinic, isClinicFile } from "../../src/batch/check-clinic.js";
import { loadKnowledge } from "../../src/knowledge/load.js";

const knowledge = loadKnowledge();
const folder = mkdtempSync(join(tmpdir(), "whorl-test-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const HEAD = `name: Tarn Sound Hair and Scalp Clinic
lines: [2 Harbour Terrace, Tarn Sound, TS1 3HB]
phone: 01632 960140
people:
  anneli-thorsby: { name: Dr Anneli Thorsby, role: Consultant, registration: TS-1, may_sign: true }
emergency: [{ label: Emergency services, number: "999" }]
`;
function clinicWith(lines: string): string {
  const file = join(folder, "clinic.yaml");
  writeFileSync(file, `${HEAD}${lines}\n`);
  return file;
}
const said = async (lines: string) =>
  (await checkClinic(clinicWith(lines), knowledge)).map(({ id, line, file }) => [
    id,
    line,
    file?.slice(folder.length + 1),
  ]);

describe("a clinic file", () => {
  test("is known by its name or its keys", () => {
    const other = join(folder, "harbour.yaml");
    writeFileSync(other, HEAD);
    const visit = join(folder, "visit.yaml");
    cpSync(inPackage("tests", "good", "patchy-complete.yaml"), visit);
    expect([clinicWith(""), other, visit, folder, join(folder, "gone.yaml")].map(isClinicFile)).toEqual([
      true,
      true,
      false,
      false,
      false,
    ]);
  });

  test("with which letters can be made has no problem", async () => {
    writeFileSync(
      join(folder, "logo.svg"),
      '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 4 4" role="img" aria-label="Clinic"><rect width="4" height="4"/></svg>',
    );
    expect(await said("logo: logo.svg")).toEqual([]);
  });

  test.each([
    ["paper: A9", [["unknown-word", 7, "clinic.yaml"]]],
    ["language: fr", [["no-language-pack", 7, "clinic.yaml"]]],
    ["logo: gone.png", [["logo-unreadable", 7, "clinic.yaml"]]],
    ["confidentiality: Private.\ntemplates: absent", [["no-own-templates", 8, "clinic.yaml"]]],
  ])("%s", async (lines, expected) => {
    expect(await said(lines)).toEqual(expected);
  });

  test("whose templates have a fault is told in the template", async () => {
    mkdirSync(join(folder, "own", "en"), { recursive: true });
    const head = "---\ntitle: Handout\nreader: patient\n---\n";
    writeFileSync(join(folder, "own", "en", "handout.hbs"), `${head}<h1>A</h1>\n<p>{{nosuch}}</p>\n`);
    expect(await said("templates: own")).toEqual([["template-error", 6, "own/en/handout.hbs"]]);
  });

  test("whose templates lie under no language is told so", async () => {
    mkdirSync(join(folder, "misnamed", "english"), { recursive: true });
    const [problem] = await checkClinic(clinicWith("templates: misnamed"), knowledge);
    expect(problem).toMatchObject({
      severity: "error",
      line: 7,
      message: "the folder of your own templates holds no folder of a language, only english",
    });
  });
});

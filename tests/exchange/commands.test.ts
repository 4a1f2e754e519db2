import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it, vi } from "vitest";
import { clinic, inFolder, patients, whorl } from "../cli/run-whorl.js";
import { root } from "../house/source-files.js";

// Each of these starts the program, some of them many times.
vi.setConfig({ testTimeout: 60_000 });

const visit = join(patients, "TS-40417", "2026-03-12.yaml");
const tables = join(root, "examples", "tables");

/** What a hurried person writes into a new visit file. */
function fill(file: string): void {
  const filled = readFileSync(file, "utf8")
    .replace(/^ {2}id: +#/mu, "  id: TS-2026-0990  #")
    .replace(/^ {2}reason: +#/mu, "  reason: New patch on the left.  #")
    .replace(/^ {2}id: +#/mu, "  id: TS-49999  #")
    .replace(/^ {4}given: +#/mu, "    given: Ada  #")
    .replace(/^ {4}family: +#/mu, "    family: Lind  #")
    .replace(/^ {2}born: +#/mu, "  born: 1990-03-02  #")
    .replace(/^ {2}sex: +#/mu, "  sex: female  #")
    .replace(/^ {2}seen_by: +#/mu, "  seen_by: anneli-thorsby  #")
    .replace(/^ {4}name: +#/mu, "    name: Dr Ilse Brandt  #")
    .replace(/^ {4}address: +#/mu, "    address: [Quayside Practice, TS1 1AA]  #")
    .replace(/exclamation mark hairs:/u, "exclamation mark hairs: several");
  writeFileSync(file, filled);
}

describe("whorl new visit", () => {
  it("leads from nothing to a letter", () =>
    inFolder((folder) => {
      const file = join(folder, "patients", "new.yaml");
      writeFileSync(join(folder, "clinic.yaml"), readFileSync(clinic));
      const made = whorl([
        "new",
        "visit",
        "--suspect",
        "alopecia areata",
        "--sites",
        "left parietal,occipital",
        "-o",
        file,
      ]);
      expect([made.code, made.out]).toEqual([0, ""]);
      const [first] = readFileSync(file, "utf8").split("\n");
      expect(first).toBe("# yaml-language-server: $schema=../whorl-visit.schema.json");
      expect(JSON.parse(readFileSync(join(folder, "whorl-visit.schema.json"), "utf8"))).toHaveProperty(
        "properties.visit",
      );
      expect(readFileSync(file, "utf8")).toContain("one of anneli-thorsby, rafiq-oyelaran");
      const empty = whorl(["check", file]);
      expect(empty.code).toBe(1);
      expect(empty.out).toContain("missing-key");
      fill(file);
      const letter = whorl(["letter", file, "--out", folder, "--format", "text"]);
      expect(letter.err).not.toContain("error");
      expect(letter.code).toBe(0);
      expect(readFileSync(join(folder, "TS-2026-0990-referral-letter.txt"), "utf8")).toContain("Ada Lind");
    }));

  it("never replaces a file", () =>
    inFolder((folder) => {
      const file = join(folder, "visit.yaml");
      writeFileSync(file, "mine");
      const { code, err } = whorl(["new", "visit", "-o", file]);
      expect([code, readFileSync(file, "utf8"), readdirSync(folder)]).toEqual([1, "mine", ["visit.yaml"]]);
      expect(err).toContain("exists already");
    }));

  it("follows a visit, and says where the schema is when it only prints", () => {
    const { code, out, err } = whorl(["new", "visit", "--from-previous", visit, "--date", "2026-06-04"]);
    expect(code).toBe(0);
    expect(out).toContain("It follows TS-2026-0141 of 2026-03-12");
    expect(out).toContain("last time several");
    expect(err).toContain("whorl-visit.schema.json");
  });

  it.each([
    [["--sites", "left pariettal"], "left parietal"],
    [["--suspect", "alopecia areta"], "alopecia areata"],
    [["--findings", "yelow dots"], "yellow dots"],
    [["--date", "12 March"], "year-month-day"],
    [["--from", "x.csv"], "--map"],
    [["--preview"], "--from"],
    [["--interactive"], "terminal"],
  ])("refuses %j as wrong use, with a way out", (args, hint) => {
    const { code, out, err } = whorl(["new", "visit", ...args]);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toContain(hint);
  });
});

describe("whorl new visit --from", () => {
  const csv = join(tables, "findings-export.csv");
  const map = join(tables, "mapping.yaml");

  it("shows first, then writes every visit", () =>
    inFolder((folder) => {
      const shown = whorl(["new", "visit", "--from", csv, "--map", map, "--preview"]);
      expect(shown.code).toBe(0);
      expect(shown.err).toContain(
        "windows-1252 (by guess), cells parted by semicolon, decimal comma, dates day-month-year",
      );
      expect(shown.out).toContain("Øyvind");
      const made = whorl(["new", "visit", "--from", csv, "--map", map, "--out", folder]);
      expect(made.code).toBe(0);
      expect(readdirSync(folder).sort()).toEqual(["TS-42010", "TS-42033", "TS-42051"]);
      expect(whorl(["check", folder, "--clinic", clinic]).code).toBe(0);
      const again = whorl(["new", "visit", "--from", csv, "--map", map, "--out", folder]);
      expect(again.code).toBe(1);
      expect(again.err).toContain("exist already");
    }));

  it("writes nothing at all when one row is wrong, and names row and column", () =>
    inFolder((folder) => {
      const bad = join(folder, "bad.csv");
      const out = join(folder, "out");
      writeFileSync(bad, readFileSync(csv).toString("latin1").replace("02.09.1966", "02.19.1966"), "latin1");
      const { code, err } = whorl(["new", "visit", "--from", bad, "--map", map, "--out", out]);
      expect(code).toBe(1);
      expect(err).toContain('row 4, column "Born"');
      expect(existsSync(out)).toBe(false);
    }));
});

describe("whorl new clinic and templates", () => {
  it("make a clinic file with its schema, and templates a clinic may edit singly", () =>
    inFolder((folder) => {
      expect(whorl(["new", "clinic", "-o", join(folder, "clinic.yaml")]).code).toBe(0);
      expect(readdirSync(folder).sort()).toEqual(["clinic.yaml", "whorl-clinic.schema.json"]);
      const own = join(folder, "own");
      expect(whorl(["new", "templates", "-o", own]).code).toBe(0);
      expect(readdirSync(own)).toEqual(readdirSync(join(root, "templates")));
      expect(whorl(["new", "templates", "-o", own]).code).toBe(1);
      const one = join(folder, "one");
      mkdirSync(join(one, "en"), { recursive: true });
      const template = readFileSync(join(own, "en", "signature.part.hbs"), "utf8");
      writeFileSync(
        join(one, "en", "signature.part.hbs"),
        template.replace("Yours sincerely", "With kind regards"),
      );
      const made = whorl([
        "letter",
        visit,
        "--templates",
        one,
        "-f",
        "text",
        "-d",
        "referral-letter",
        "-o",
        folder,
      ]);
      expect(made.code).toBe(0);
      const text = readFileSync(join(folder, "TS-2026-0141-referral-letter.txt"), "utf8");
      expect(text).toContain("With kind regards");
      expect(text).toContain("Summary and plan");
    }));
});

describe("whorl schema", () => {
  it("prints either schema, and refuses another kind", () => {
    expect(JSON.parse(whorl(["schema"]).out)).toHaveProperty("properties.patient");
    expect(JSON.parse(whorl(["schema", "clinic"]).out)).toHaveProperty("properties.people");
    expect(whorl(["schema", "letter"]).code).toBe(2);
  });
});

describe("whorl export", () => {
  it("gives the same FHIR document each time but for the moment it is put together, with the letter in it", () => {
    const [first, second] = [
      whorl(["export", visit, "--as", "fhir"]),
      whorl(["export", visit, "--as", "fhir"]),
    ];
    expect(first.code).toBe(0);
    const untimed = (text: string) => text.replace(/"timestamp": "\d{4}-\d\d-\d\dT[\d:.]+Z"/u, "");
    expect(untimed(first.out)).toBe(untimed(second.out));
    expect(untimed(first.out)).not.toContain("timestamp");
    const data = /"data": "([^"]+)"/u.exec(first.out)?.[1] ?? "";
    expect(Buffer.from(data, "base64").subarray(0, 5).toString()).toBe("%PDF-");
  });

  it("puts many visits into one audit table, and writes a document or the visit", () =>
    inFolder((folder) => {
      const audit = whorl(["export", join(patients, "TS-40417"), "--as", "csv"]);
      expect(audit.code).toBe(0);
      expect(audit.out.split("\r\n").filter((line) => line.startsWith("visit,"))).toHaveLength(1);
      const file = join(folder, "letter.docx");
      expect(whorl(["export", visit, "--as", "docx", "-o", file]).code).toBe(0);
      expect(readFileSync(file).subarray(0, 2).toString()).toBe("PK");
      expect(whorl(["export", visit, "--as", "docx", "-o", file]).code).toBe(1);
      expect(whorl(["export", visit, "--as", "yaml"]).out).toContain("exclamation mark hairs: several");
    }));

  it.each([
    [["--as", "docx"], 2, "--out"],
    [["--as", "xml"], 2, "fhir"],
    [[], 2, "--as"],
  ])("refuses %j as wrong use", (args, code, hint) => {
    const ran = whorl(["export", visit, ...args]);
    expect(ran.code).toBe(code);
    expect(ran.err).toContain(hint);
  });

  it("makes nothing of a visit with an error, and takes one visit where one belongs", () =>
    inFolder((folder) => {
      const bad = join(folder, "bad.yaml");
      writeFileSync(bad, readFileSync(visit, "utf8").replace("1991-07-04", "1991-17-04"));
      const ran = whorl(["export", bad, "--as", "fhir", "--clinic", clinic]);
      expect([ran.code, ran.out]).toEqual([1, ""]);
      expect(whorl(["export", patients, "--as", "fhir"]).code).toBe(2);
    }));
});

describe("the help of each command", () => {
  it.each([["new"], ["new visit"], ["new clinic"], ["new templates"], ["schema"], ["export"]])(
    "%s shows examples",
    (command) => {
      const { code, out } = whorl([...command.split(" "), "--help"]);
      expect(code).toBe(0);
      expect(out).toContain("Examples:\n  whorl ");
    },
  );
});

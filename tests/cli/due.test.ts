import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import type { Extract } from "../../src/due/extract.js";
import { generateVisits, inventedName } from "../batch/generate-visits.js";
import { LONG } from "../runs.js";
import { clinic, inFolder, whorl } from "./run-whorl.js";

interface Listed {
  readonly register: string;
  readonly visits: number;
  readonly lines: readonly { kind: string; visit: string; due: boolean; file: string }[];
}

const text = (id: string, date: string, rest: string) => `format: 1
visit: { id: ${id}, date: ${date}, status: draft, seen_by: anneli-thorsby }
patient: { id: TS-1, name: { given: Ivo, family: Quill }, born: 1988-05-01, sex: male }
sites: [{ site: vertex, findings: { yellow dots: few } }]
${rest}
`;

function folderWith(folder: string, visits: Readonly<Record<string, string>>): string {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, "clinic.yaml"), readFileSync(clinic));
  for (const [name, yaml] of Object.entries(visits)) writeFileSync(join(folder, name), yaml);
  return folder;
}

const AWAITS = text(
  "V-1",
  "2026-03-12",
  "tests: [{ name: fungal culture, result: awaited }]\nfollow_up: { weeks: 4 }",
);
const ANSWERS = text("V-2", "2026-04-09", "tests: [{ name: fungal culture, result: no growth }]");

/** As many visits as it takes for anything to be kept: some shapes of the examples, the rest short drafts. */
function manyVisits(folder: string): readonly string[] {
  const { files } = generateVisits(folder, LONG ? 24 : 8);
  const short = Array.from({ length: 150 }, (_, i) => {
    const file = join(folder, `short-${i}.yaml`);
    const day = text(`S-${i}`, "2026-03-12", "").replace("id: TS-1,", `id: TS-${70_000 + i},`);
    writeFileSync(file, day.replace("Quill", `Quill-${inventedName(i).family}`));
    return file;
  });
  return [...files, ...short];
}

const list = (folder: string, ...more: string[]): Listed & { code: number | null } => {
  const { code, out } = whorl(["due", folder, "--json", ...more]);
  return { ...(JSON.parse(out) as Listed), code };
};
const told = ({ lines }: Listed) => lines.map((l) => `${l.kind} ${l.visit}${l.due ? "!" : ""}`);

describe("whorl due", () => {
  it("lists what waits on a day, and a later visit closes it", () => {
    inFolder((folder) => {
      folderWith(folder, { "a.yaml": AWAITS });
      const before = list(folder, "--today", "2026-04-09");
      expect(told(before)).toEqual(["draft V-1!", "test-awaited V-1"]);
      expect(before).toMatchObject({ code: 1, register: "none", visits: 1 });
      expect(told(list(folder, "--today", "2026-04-24"))).toEqual([
        "draft V-1!",
        "follow-up-missed V-1!",
        "test-awaited V-1!",
      ]);
      expect(told(list(folder, "--today", "2026-04-09", "--late"))).toEqual(["draft V-1!"]);
      writeFileSync(join(folder, "b.yaml"), ANSWERS);
      expect(told(list(folder, "--today", "2026-04-24"))).toEqual(["draft V-1!", "draft V-2!"]);
    });
  });

  it("leaves a visit of another person to stand alone", () => {
    inFolder((folder) => {
      folderWith(folder, { "a.yaml": AWAITS, "b.yaml": ANSWERS.replace("1988-05-01", "1989-05-01") });
      expect(told(list(folder, "--today", "2026-04-24"))).toEqual([
        "doubt V-1!",
        "draft V-1!",
        "follow-up-missed V-1!",
        "test-awaited V-1!",
        "doubt V-2!",
        "draft V-2!",
      ]);
    });
  });

  it("names a visit that cannot be read", () => {
    inFolder((folder) => {
      folderWith(folder, { "a.yaml": AWAITS.replace("yellow dots: few", "yelow dots: few") });
      const found = list(folder, "--today", "2026-03-20");
      expect(told(found)).toEqual(["unreadable V-1!"]);
      expect(found.code).toBe(1);
    });
  });

  it("shows a table by urgency, and says what is not known", () => {
    inFolder((folder) => {
      folderWith(folder, { "a.yaml": AWAITS });
      const { out } = whorl(["due", folder, "--today", "2026-04-24"]);
      expect(out).toContain("TS-1  Quill, Ivo  V-1, since 2026-03-12 (43 days), was due 2026-04-23");
      expect(out).toContain("Test awaited: The result of fungal culture is awaited.");
      expect(out).toContain("1 never signed, 1 follow-up past its week, 1 test awaited, in 1 visit.");
      expect(out).toContain("There is no register here");
    });
  });

  it("makes a sheet, and leaves every visit as it was", () => {
    inFolder((folder) => {
      folderWith(folder, { "a.yaml": AWAITS });
      const out = join(folder, "open.pdf");
      expect(whorl(["due", folder, "--today", "2026-04-24", "--out", out]).code).toBe(1);
      expect(readFileSync(out).subarray(0, 5).toString()).toBe("%PDF-");
      expect(readFileSync(join(folder, "a.yaml"), "utf8")).toBe(AWAITS);
    });
  });

  it("ends well where nothing must be done, and is used wrongly with a day that is none", () => {
    inFolder((folder) => {
      folderWith(folder, {});
      expect(whorl(["due", folder]).code).toBe(1);
      expect(whorl(["due", folder, "--today", "2026-02-30"]).code).toBe(2);
    });
  });

  it("says the same of many visits from what it or a batch kept as it did at first, and sees what changed since", () => {
    inFolder((folder) => {
      const files = manyVisits(folder);
      const day = ["--today", "2027-01-01"];
      for (const file of files.slice(2))
        writeFileSync(file, readFileSync(file, "utf8").replace("status: signed", "status: draft"));
      const first = list(folder, ...day);
      const kept = join(folder, ".whorl", "extracts.json");
      const body = () =>
        JSON.parse(readFileSync(kept, "utf8").split("\n")[1] ?? "") as Record<string, Extract>;
      const weighed = body();
      expect(list(folder, ...day)).toEqual(first);
      // A kept extract that is not as it was written is made anew.
      const spoiled = readFileSync(kept, "utf8").replaceAll(
        '"signed":null',
        '"signed":{"at":"","edition":1}',
      );
      expect(spoiled).not.toBe(readFileSync(kept, "utf8"));
      writeFileSync(kept, spoiled);
      expect(list(folder, ...day)).toEqual(first);
      rmSync(kept);
      expect(
        whorl(["batch", folder, "--out", join(folder, "letters"), "--jobs", "1", "--no-proof"]).err,
      ).not.toContain("error: ");
      const byBatch = body();
      // What may not be printed is left to the list itself.
      expect(Object.keys(byBatch).length).toBeGreaterThan(100);
      for (const [key, extract] of Object.entries(byBatch)) expect(extract).toEqual(weighed[key]);
      expect(list(folder, ...day)).toEqual(first);
      const marks = files.flatMap((file) =>
        readdirSync(dirname(file), { recursive: true })
          .map((name) => join(dirname(file), String(name)))
          .filter((name) => name.endsWith(".marks.yaml")),
      )[0];
      if (!marks) throw new Error("no visit with marks");
      writeFileSync(marks, `${readFileSync(marks, "utf8")}# looked at again\n`);
      const changed = files[0] ?? "";
      const id = /id: (TS-2027-\d+)/u.exec(readFileSync(changed, "utf8"))?.[1] ?? "";
      writeFileSync(changed, readFileSync(changed, "utf8").replace("status: signed", "status: draft"));
      expect(told(first)).not.toContain(`draft ${id}!`);
      expect(told(list(folder, ...day))).toContain(`draft ${id}!`);
      const now = body();
      expect(Object.keys(now).filter((key) => !(key in weighed))).toHaveLength(2);
      // Nothing is kept of a visit that is gone.
      rmSync(changed);
      expect(told(list(folder, ...day)).join()).not.toContain(id);
      expect(readFileSync(kept, "utf8")).not.toContain(id);
    });
  });
});

import { copyFileSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { clinic, inFolder, patients, whorl } from "./run-whorl.js";

const visit = join(patients, "TS-41033", "2026-05-06.yaml");

describe("whorl letter", () => {
  it("makes a letter and a handout, for the owner's eyes only", () => {
    inFolder((folder) => {
      const ran = whorl(["letter", visit, "--out", folder]);
      expect(ran.code, ran.err).toBe(0);
      expect(readdirSync(folder).sort()).toEqual([
        "TS-2026-0299-handout.pdf",
        "TS-2026-0299-referral-letter.pdf",
      ]);
      for (const name of readdirSync(folder)) {
        expect(statSync(join(folder, name)).mode & 0o077).toBe(0);
        expect(readFileSync(join(folder, name)).subarray(0, 5).toString()).toBe("%PDF-");
      }
      expect(ran.out).toContain("TS-2026-0299-referral-letter.pdf  1 page");
    });
  });

  it("gives the same bytes twice", () => {
    inFolder((a) =>
      inFolder((b) => {
        whorl(["letter", visit, "--out", a]);
        whorl(["letter", visit, "--out", b]);
        for (const name of readdirSync(a)) {
          expect(readFileSync(join(a, name)).equals(readFileSync(join(b, name)))).toBe(true);
        }
      }),
    );
  });

  it("writes nothing for a broken visit, leaves an old letter alone, and makes the others", () => {
    inFolder((folder) => {
      const out = join(folder, "out");
      const broken = join(folder, "broken.yaml");
      copyFileSync(clinic, join(folder, "clinic.yaml"));
      copyFileSync(visit, join(folder, "fine.yaml"));
      writeFileSync(
        broken,
        readFileSync(visit, "utf8")
          .replace("yellow dots: few", "yelow dots: few")
          .replace("TS-2026-0299", "TS-2026-0999"),
      );
      whorl(["letter", join(folder, "fine.yaml"), "--out", out]);
      writeFileSync(join(out, "TS-2026-0999-handout.pdf"), "an older handout");
      const ran = whorl(["letter", broken, join(folder, "fine.yaml"), "--out", out]);
      expect(ran.code).toBe(1);
      expect(ran.err).toContain("yelow dots");
      expect(ran.err).toContain("yellow dots");
      expect(ran.err).toMatch(/broken\.yaml:\d+:\d+/u);
      expect(readFileSync(join(out, "TS-2026-0999-handout.pdf"), "utf8")).toBe("an older handout");
      expect(readdirSync(out).sort()).toEqual([
        "TS-2026-0299-handout.pdf",
        "TS-2026-0299-referral-letter.pdf",
        "TS-2026-0999-handout.pdf",
      ]);
    });
  });

  it.each([
    ["text", "txt", "Dear Dr Achterberg"],
    ["html", "html", "<!doctype html>"],
  ])("writes %s from the same source", (format, suffix, sign) => {
    inFolder((folder) => {
      const ran = whorl([
        "letter",
        visit,
        "--out",
        folder,
        "--format",
        format,
        "--document",
        "referral-letter",
      ]);
      expect(ran.code, ran.err).toBe(0);
      const text = readFileSync(join(folder, `TS-2026-0299-referral-letter.${suffix}`), "utf8");
      expect(text.toLowerCase()).toContain(sign.toLowerCase());
      expect(text).toContain("exclamation mark hairs");
    });
  });

  it("makes one letter for each addressee, the school's without what it need not know", () => {
    inFolder((folder) => {
      const boy = join(patients, "TS-40782", "2026-04-21.yaml");
      const ran = whorl([
        "letter",
        boy,
        "--out",
        folder,
        "--format",
        "text",
        "--document",
        "referral-letter",
      ]);
      expect(ran.code, ran.err).toBe(0);
      const letter = readFileSync(join(folder, "TS-2026-0263-referral-letter-1.txt"), "utf8");
      expect(letter).toContain("Dear Dr Achterberg");
      const notice = readFileSync(join(folder, "TS-2026-0263-notice-2.txt"), "utf8");
      expect(notice).toContain("Dear Sister Amundsen,");
      expect(notice).toContain("It holds no history and no findings.");
      expect(notice).toMatch(/Copy to\s+Dr Tomos Achterberg \(general practitioner\)/u);
      expect(notice).not.toMatch(/ringworm|tinea|comma hairs|kitten/iu);
    });
  });

  it("tells a wrong command from wrong input", () => {
    expect(whorl(["lettr", visit]).code).toBe(2);
    expect(whorl(["letter"]).code).toBe(2);
    expect(whorl(["letter", visit, "--format", "doc"]).code).toBe(2);
    inFolder((folder) => {
      expect(whorl(["letter", join(folder, "none.yaml"), "--clinic", clinic, "--out", folder]).code).toBe(1);
      expect(whorl(["letter", visit, "--document", "lettre", "--out", folder]).code).toBe(1);
      expect(readdirSync(folder)).toEqual([]);
    });
  });

  it("refuses a place it cannot write to without losing anything", () => {
    inFolder((folder) => {
      writeFileSync(join(folder, "file"), "in the way");
      const ran = whorl(["letter", visit, "--out", join(folder, "file", "below")]);
      expect(ran.code).toBe(3);
      expect(ran.err).toContain("Nothing was left half-written");
      expect(readFileSync(join(folder, "file"), "utf8")).toBe("in the way");
    });
  });
});

import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { z } from "zod";
import { LONG } from "../runs.js";
import { clinic, inFolder, patients, whorl } from "./run-whorl.js";

const visit = join(patients, "TS-40417", "2026-03-12.yaml");
const mimic = join(patients, "TS-41388", "2026-09-22.yaml");

const problem = z.object({
  severity: z.enum(["error", "warning", "note"]),
  id: z.string(),
  line: z.number().nullable(),
  column: z.number().nullable(),
  path: z.string().nullable(),
  message: z.string(),
  suggestion: z.string().nullable(),
});
const checked = z.object({
  files: z.array(z.object({ file: z.string(), ok: z.boolean(), problems: z.array(problem) })),
});

describe("whorl check", () => {
  it("passes examples, in words and as JSON", () => {
    const ran = whorl(["check", join(patients, "TS-40417")]);
    expect(ran.code, ran.out).toBe(0);
    const of = LONG ? patients : join(patients, "TS-41520");
    const { files } = checked.parse(JSON.parse(whorl(["check", of, "--json"]).out));
    expect(files.length).toBeGreaterThanOrEqual(LONG ? 18 : 1);
    expect(files.every((f) => f.ok)).toBe(true);
  });

  it("names file, line, column, what was found, what was expected and the nearest word", () => {
    inFolder((folder) => {
      const file = join(folder, "v.yaml");
      writeFileSync(file, readFileSync(visit, "utf8").replace("yellow dots: few", "yelow dots: fwe"));
      const ran = whorl(["check", file, "--clinic", clinic]);
      expect(ran.code).toBe(1);
      expect(ran.out).toMatch(/v\.yaml:\d+:7/u);
      expect(ran.out).toContain("yelow dots");
      expect(ran.out).toContain('"yellow dots"');
      const { files } = checked.parse(JSON.parse(whorl(["check", file, "--json"]).out));
      const first = files[0]?.problems.find((p) => p.suggestion === "yellow dots");
      expect(first?.path).toContain("findings");
    });
  });

  it("says before print that evidence and impression part ways", () => {
    const ran = whorl(["check", mimic]);
    expect(ran.code).toBe(0);
    expect(ran.out).toContain("impression-disagrees");
    expect(ran.out).toContain("must-not-miss-open");
    expect(whorl(["check", mimic, "--strict"]).code).toBe(1);
  });

  it("quiets a message that was accepted, and says so", () => {
    inFolder((folder) => {
      const file = join(folder, "v.yaml");
      const accept =
        "accept:\n  - { id: impression-disagrees, reason: Blood test sent; awaiting it. }\n  - { id: must-not-miss-open, reason: Blood test sent. }\n";
      writeFileSync(file, `${readFileSync(mimic, "utf8")}${accept}`);
      const ran = whorl(["check", file, "--strict", "--clinic", clinic]);
      expect(ran.out).toContain("Blood test sent; awaiting it.");
      expect(ran.out).not.toMatch(/warning {2}impression/u);
    });
  });
});

describe("whorl explain", () => {
  it("fits a screen and names the leading disorder with reasons", () => {
    const ran = whorl(["explain", visit]);
    expect(ran.code, ran.err).toBe(0);
    expect(ran.out).toContain("alopecia areata");
    expect(ran.out).toContain("exclamation mark hairs");
    expect(ran.out.split("\n").length).toBeLessThanOrEqual(60);
  });

  it("gives the whole ledger with sources on --why", () => {
    const ran = whorl(["explain", visit, "--why", "Alopecia Areata"]);
    expect(ran.code, ran.err).toBe(0);
    expect(ran.out).toContain("Sources");
    expect(ran.out).toMatch(/\[\d+\] .*20\d\d/u);
    expect(whorl(["explain", visit, "--why", "alopecia arreata"]).err).toContain("alopecia areata");
    expect(whorl(["explain", visit, "--why", "tinea"]).err).toBe(
      'Unknown disorder "tinea". Did you mean "tinea amiantacea" or "tinea capitis"?\n',
    );
  });

  it("prints the fixed JSON", () => {
    const shape = z.object({
      visit: z.string(),
      disorders: z.array(
        z.object({
          id: z.string(),
          band: z.enum(["strongly supported", "supported", "possible", "unlikely", "not assessable"]),
          leads: z.number().min(0).max(1),
          for: z.array(z.object({ weight: z.number(), source: z.string() }).loose()),
          against: z.array(z.object({ weight: z.number(), source: z.string() }).loose()),
        }),
      ),
      activity: z.array(z.object({ disorder: z.string(), state: z.string(), markers: z.array(z.string()) })),
      must_not_miss: z.array(z.object({ id: z.string(), why: z.string(), answered_by_plan: z.boolean() })),
      look_next: z.array(
        z.object({ look_for: z.string(), separates: z.array(z.string()), bits: z.number() }),
      ),
      agreement: z.object({
        recorded: z.array(z.string()),
        verdict: z.enum(["agrees", "partly", "disagrees", "no-impression"]),
        why: z.string(),
      }),
      not_assessed: z.array(z.string()),
      measures: z.array(
        z.object({ id: z.string(), value: z.number(), unit: z.string(), source: z.string() }).loose(),
      ),
    });
    const parsed = shape.parse(JSON.parse(whorl(["explain", visit, "--json"]).out));
    expect(parsed.disorders[0]?.id).toBe("alopecia-areata");
    expect(parsed.disorders.length).toBeGreaterThanOrEqual(24);
  });
});

describe("whorl catalogue", () => {
  it("lists everything and explains one thing with sources", () => {
    expect(whorl(["catalogue"]).out).toContain("comma hairs");
    const ran = whorl(["catalogue", "comma", "hairs"]);
    expect(ran.out).toContain("One alone proves little");
    expect(ran.out).toContain("Sources");
    expect(whorl(["catalogue", "lichen planopilaris"]).out).toContain("L66.1");
    const wrong = whorl(["catalogue", "coma hairs"]);
    expect(wrong.code).toBe(2);
    expect(wrong.err).toContain("comma hairs");
  });
});

describe("whorl compare", () => {
  it("tells real change from counting error", () => {
    const ran = whorl(["compare", join(patients, "TS-40417")]);
    expect(ran.code, ran.err).toBe(0);
    expect(ran.out).toContain("more than counting error");
    expect(ran.out).toContain("too few fields to tell");
  });

  it("refuses to mix patients", () => {
    const ran = whorl(["compare", visit, join(patients, "TS-39655", "2026-02-10.yaml")]);
    expect(ran.code).toBe(1);
    expect(ran.err).toContain("mixed-patients");
    expect(ran.out).toBe("");
  });
});

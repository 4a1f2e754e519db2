import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { inFolder, whorl } from "./run-whorl.js";

const examples = join(import.meta.dirname, "..", "..", "examples");

describe("whorl audit", () => {
  it("holds back small numbers, and shows them in the clinic's own copy", () => {
    const told = (...more: string[]) =>
      whorl(["audit", examples, "--today", "2026-11-27", "--json", ...more]);
    const shared = told();
    expect(shared.code, shared.err).toBe(0);
    const { overall, by_disorder, visits } = JSON.parse(shared.out);
    expect(visits).toBe(21);
    expect(overall).toEqual({ id: "all", of: null, impression: null, engine: null });
    expect(by_disorder).toEqual([{ id: "others", of: null, impression: null, engine: null }]);
    const own = JSON.parse(told("--own").out);
    expect(own.overall).toMatchObject({ of: 5, impression: { yes: 4 }, engine: { yes: 5 } });
    expect(own.by_disorder).toHaveLength(5);
  });

  it("makes a sheet", () => {
    inFolder((folder) => {
      const out = join(folder, "audit.pdf");
      const ran = whorl(["audit", examples, "--own", "--today", "2026-11-27", "--out", out]);
      expect(ran.code, ran.err).toBe(0);
      expect(readFileSync(out).subarray(0, 5).toString()).toBe("%PDF-");
    });
  });

  it("of no visits at all needs a person", () => {
    inFolder((folder) => {
      expect(whorl(["audit", folder]).code).toBe(1);
    });
  });
});

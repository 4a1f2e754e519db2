/** A session that may open few files: fewer workers, or one plain sentence; never a run that fails letter by letter. */
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { LONG } from "../runs.js";
import { manifestOf, scratch } from "./command.js";
import { generateVisits } from "./generate-visits.js";

function batchWith(handles: number, jobs: number) {
  const { folder } = generateVisits(scratch(), 4);
  const out = join(scratch(), "out");
  const ran = spawnSync(
    "sh",
    [
      "-c",
      'ulimit -n "$1"; shift; exec "$@"',
      "sh",
      String(handles),
      process.execPath,
      inPackage("bin", "whorl.js"),
      "batch",
      folder,
      "--out",
      out,
      "--jobs",
      String(jobs),
    ],
    { encoding: "utf8" },
  );
  return { code: ran.status, err: ran.stderr, out };
}

describe.skipIf(process.platform === "win32")("with few file handles", () => {
  it("employs fewer workers than asked for", () => {
    const { code, out } = batchWith(72, 4);
    expect(code).toBe(0);
    expect(manifestOf(out).totals).toMatchObject({ made: 4, failed: 0 });
  });

  it.each(LONG ? [28, 44] : [44])("makes nothing with %i, and says what it needs", (handles) => {
    const { code, err, out } = batchWith(handles, 2);
    expect(err).toContain("Whorl needs more file handles than this session allows (ulimit -n): at least 64.");
    expect(code).toBe(3);
    expect(existsSync(join(out, "manifest.json"))).toBe(false);
  });
});

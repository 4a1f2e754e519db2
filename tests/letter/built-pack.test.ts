/** A pack as the build left it is the pack as its files say it. */
import { mkdirSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { loadPack } from "../../src/letter/pack.js";

it.each(["en", "en-GB", "en-US", "de", "de-AT", "es"])("%s", (language) => {
  // Beside a folder of a clinic's own, even an empty one, ours is read from its files.
  const own = mkdtempSync(join(tmpdir(), "whorl-own-"));
  mkdirSync(join(own, language));
  try {
    const read = loadPack(language, own);
    expect(read.problems).toEqual([]);
    expect(loadPack(language)).toEqual(read);
  } finally {
    rmSync(own, { recursive: true });
  }
});

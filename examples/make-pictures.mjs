/** Makes the pictures of the README from the examples: PDF pages as PNG, by poppler's pdftoppm. */
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const whorl = join(here, "..", "bin", "whorl.js");
const out = join(here, "pictures");
const folder = mkdtempSync(join(tmpdir(), "whorl-pictures-"));

/** Visit file, document, pages to show, picture name. */
const WANTED = [
  ["TS-40417/2026-03-12.yaml", "referral-letter", [1, 2], "referral-letter"],
  ["TS-40417/2026-03-12.yaml", "handout", [1, 2], "handout"],
  ["TS-41388/2026-09-22.yaml", "reasoning-sheet", [1], "reasoning-sheet"],
  ["TS-40417/2026-06-04.yaml", "progress-sheet", [1], "progress-sheet"],
];

try {
  for (const [file, document, pages, name] of WANTED) {
    const made = execFileSync(
      process.execPath,
      [whorl, "letter", join(here, "patients", file), "--document", document, "--out", folder, "--json"],
      { encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] },
    );
    const pdf = JSON.parse(made).made[0].file;
    for (const page of pages) {
      const picture = join(out, `${name}-${page}`);
      const range = ["-f", String(page), "-l", String(page), "-singlefile"];
      execFileSync("pdftoppm", ["-r", "80", "-png", ...range, pdf, picture]);
    }
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}

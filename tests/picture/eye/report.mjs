/** Bundles report.ts and runs it from the package's folder. */
import { execFileSync } from "node:child_process";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const root = join(dirname(fileURLToPath(import.meta.url)), "..", "..", "..");
const out = join(root, ".evaluate", "eye", "report.mjs");
execFileSync(
  join(root, "node_modules", ".bin", "esbuild"),
  [
    "tests/picture/eye/report.ts",
    "--bundle",
    "--platform=node",
    "--format=esm",
    "--packages=external",
    `--outfile=${out}`,
    "--log-level=warning",
  ],
  { cwd: root, stdio: "inherit" },
);
execFileSync(process.execPath, [out, ...process.argv.slice(2)], { cwd: root, stdio: "inherit" });

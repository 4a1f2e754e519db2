/** Two projects: pure rooms share one process for each worker; browsers, disks and processes run alone, after them. */
import { defineConfig } from "vitest/config";

/** Tests that start processes, fill disks, drive a browser or load the engine twice: each in a process of its own. */
const OWN_PROCESS = [
  "tests/batch/**/*.test.ts",
  "tests/cli/**/*.test.ts",
  "tests/clinic-folder/**/*.test.ts",
  "tests/desk/**/*.test.ts",
  "tests/files/**/*.test.ts",
  "tests/library/**/*.test.ts",
  "tests/bench/**/*.test.ts",
  "tests/attacks/**/*.test.ts",
  "tests/page/**/*.test.ts",
  "tests/pictures/**/*.test.ts",
  "tests/register/**/*.test.ts",
  "tests/exchange/commands.test.ts",
  // These set PDFs, or use the PDF engine as it comes: from source ours is patched in place, so each needs an engine of its own.
  "tests/examples/**/*.test.ts",
  "tests/properties/letter.test.ts",
  "tests/diagram/pdf.test.ts",
];

/** Long enough for a machine ten times slower than a usual one: a limit here finds what hangs, never what is slow. */
const HANGS = 300_000;

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: "rooms",
          include: ["tests/**/*.test.ts"],
          exclude: OWN_PROCESS,
          isolate: false,
          testTimeout: HANGS,
          hookTimeout: HANGS,
          sequence: { groupOrder: 0 },
        },
      },
      {
        test: {
          name: "processes",
          include: OWN_PROCESS,
          testTimeout: HANGS,
          hookTimeout: HANGS,
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});

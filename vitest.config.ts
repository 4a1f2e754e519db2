/**
 * Four projects, one after the other. Rooms that compute, tests that make documents or look at folders, and those of the desk share
 * a process for each worker, so that knowledge and typefaces are loaded once; those of the desk share one browser too. Tests that
 * start processes, fill disks, stand in for modules or load the PDF engine as it comes have each a process of their own.
 */
import { defineConfig } from "vitest/config";

const DOCUMENTS = [
  "tests/attacks/**/*.test.ts",
  "tests/batch/**/*.test.ts",
  "tests/bench/**/*.test.ts",
  "tests/clinic-folder/**/*.test.ts",
  "tests/examples/**/*.test.ts",
  "tests/page/**/*.test.ts",
  "tests/properties/letter.test.ts",
  "tests/register/**/*.test.ts",
];

const OWN_PROCESS = [
  "tests/batch/{edited,endure,full-disk,power-cut,run,shards}.test.ts",
  "tests/bench/floor.test.ts",
  "tests/cli/**/*.test.ts",
  "tests/diagram/pdf.test.ts",
  "tests/exchange/commands.test.ts",
  "tests/files/**/*.test.ts",
  "tests/interpret/same-in-any-order.test.ts",
  "tests/library/**/*.test.ts",
  "tests/page/pdfmake/**/*.test.ts",
  "tests/pictures/**/*.test.ts",
  "tests/register/processes.test.ts",
];

const DESK = "tests/desk/**/*.test.ts";

/** Long enough for a machine ten times slower than a usual one: a limit here finds what hangs, never what is slow. */
const HANGS = 300_000;
const limits = { testTimeout: HANGS, hookTimeout: HANGS };

export default defineConfig({
  test: {
    projects: [
      {
        test: {
          name: "rooms",
          include: ["tests/**/*.test.ts"],
          exclude: [...DOCUMENTS, ...OWN_PROCESS, DESK],
          isolate: false,
          sequence: { groupOrder: 0 },
          ...limits,
        },
      },
      {
        test: {
          name: "documents",
          include: DOCUMENTS,
          exclude: OWN_PROCESS,
          globalSetup: "tests/build.ts",
          isolate: false,
          sequence: { groupOrder: 1 },
          ...limits,
        },
      },
      {
        test: {
          name: "processes",
          include: OWN_PROCESS,
          globalSetup: "tests/build.ts",
          // Loaded by Node itself, as the worker threads are that it stands for.
          server: { deps: { external: [/worker-here\.mjs$/u] } },
          sequence: { groupOrder: 2 },
          ...limits,
        },
      },
      {
        test: {
          name: "desk",
          include: [DESK],
          globalSetup: ["tests/build.ts", "tests/desk/chromium.ts"],
          isolate: false,
          expect: { poll: { timeout: 60_000 } },
          sequence: { groupOrder: 3 },
          ...limits,
        },
      },
    ],
  },
});

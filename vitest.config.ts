/**
 * Four projects, one after the other. Rooms that compute, tests that make documents, run commands or look at folders, and those of
 * the desk share a process for each worker, so that knowledge, typefaces and the command are loaded once; those of the desk share
 * one browser too. Tests that fill disks, stand in for modules or load the PDF engine as it comes have each a process of their own.
 */
import { availableParallelism } from "node:os";
import { defineConfig } from "vitest/config";

const DOCUMENTS = [
  "tests/attacks/**/*.test.ts",
  "tests/batch/**/*.test.ts",
  "tests/bench/**/*.test.ts",
  "tests/cli/**/*.test.ts",
  "tests/clinic-folder/**/*.test.ts",
  "tests/examples/**/*.test.ts",
  "tests/exchange/commands.test.ts",
  "tests/library/**/*.test.ts",
  "tests/page/**/*.test.ts",
  "tests/pictures/**/*.test.ts",
  "tests/properties/letter.test.ts",
  "tests/register/**/*.test.ts",
];

const OWN_PROCESS = [
  "tests/batch/{edited,full-disk,power-cut,scheduled}.test.ts",
  "tests/bench/floor.test.ts",
  "tests/diagram/pdf.test.ts",
  "tests/files/**/*.test.ts",
  "tests/interpret/same-in-any-order.test.ts",
  "tests/page/pdfmake/**/*.test.ts",
];

const DESK = "tests/desk/**/*.test.ts";

/** Long enough for a machine ten times slower than a usual one: a limit here finds what hangs, never what is slow. */
const HANGS = 300_000;
const common = {
  testTimeout: HANGS,
  hookTimeout: HANGS,
  // Tests make much that lives briefly: with room for it, a fifth less of the processor's time goes into clearing away.
  execArgv: ["--max-semi-space-size=64"],
};

export default defineConfig({
  test: {
    // Left to itself, vitest uses one of two processors.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    // What is compiled for one project is taken over by the others, and by the next run.
    experimental: { fsModuleCache: true },
    projects: [
      {
        test: {
          name: "rooms",
          include: ["tests/**/*.test.ts"],
          exclude: [...DOCUMENTS, ...OWN_PROCESS, DESK],
          isolate: false,
          sequence: { groupOrder: 0 },
          ...common,
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
          ...common,
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
          ...common,
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
          ...common,
        },
      },
    ],
  },
});

/** The tests of one room, for mutation runs: `WHORL_ROOM=measure`, its properties with them; of all rooms without it. */
import { defineConfig } from "vitest/config";

const room = process.env.WHORL_ROOM ?? "";

/** Tests of a room that lie in a folder of their own. */
const BESIDE: Readonly<Record<string, readonly string[]>> = {
  "batch/proof": ["tests/batch/{proof,planted,mix-ups}.test.ts"],
  visit: ["tests/prose/**/*.test.ts"],
};

/** They hold the source against the command as it was built, and would notice any change; or they need a process of their own. */
const LEFT_OUT = [
  "tests/diagram/pdf.test.ts",
  "tests/interpret/same-in-any-order.test.ts",
  "tests/page/determinism.test.ts",
  "tests/page/pdfmake/**",
];

export default defineConfig({
  test: {
    include: [
      `tests/${room}/**/*.test.ts`,
      ...(room ? [`tests/properties/${room}*.test.ts`] : []),
      ...(BESIDE[room] ?? []),
    ],
    exclude: LEFT_OUT,
    testTimeout: 60_000,
    bail: 1,
    isolate: false,
  },
});

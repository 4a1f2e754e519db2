/** The tests of one room, for mutation runs: `WHORL_ROOM=measure`; of all rooms without it. */
import { defineConfig } from "vitest/config";

const room = process.env.WHORL_ROOM ?? "";

/** They hold the source against the command as it was built, and would notice any change; or they need a process of their own. */
const LEFT_OUT = [
  "tests/diagram/pdf.test.ts",
  "tests/interpret/same-in-any-order.test.ts",
  "tests/page/determinism.test.ts",
  "tests/page/pdfmake/**",
];

export default defineConfig({
  test: {
    include: [`tests/${room}/**/*.test.ts`],
    exclude: LEFT_OUT,
    testTimeout: 60_000,
    bail: 1,
    isolate: false,
  },
});

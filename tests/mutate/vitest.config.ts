/** The tests of one room, for mutation runs: `WHORL_ROOM=measure`; of all rooms without it. */
import { defineConfig } from "vitest/config";

const room = process.env.WHORL_ROOM ?? "";

export default defineConfig({
  test: { include: [`tests/${room}/**/*.test.ts`], testTimeout: 60_000, bail: 1, isolate: false },
});

/** Runs the tests of some rooms: `npm run test:room -- measure interpret`. */
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";

const [...given] = process.argv.slice(2);
const rooms = given.filter((arg) => !arg.startsWith("-"));
const missing = rooms.filter((room) => !existsSync(join("tests", room)));
if (rooms.length === 0 || missing.length > 0) {
  console.error(
    missing.length > 0 ? `No tests at tests/${missing[0]}` : "Name a room: npm run test:room -- measure",
  );
  process.exit(2);
}
const args = [
  "vitest",
  "run",
  ...rooms.map((room) => join("tests", room)),
  ...given.filter((arg) => arg.startsWith("-")),
];
process.exit(spawnSync("npx", args, { stdio: "inherit" }).status ?? 3);

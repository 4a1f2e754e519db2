/**
 * Makes wrong changes that a person thought of, one at a time, and says which the room's own tests notice.
 *
 *   npm run mutate:by-hand                    all of changes.yaml
 *   npm run mutate:by-hand -- visit exchange  those of some rooms
 *   CHANGES=mine.yaml npm run mutate:by-hand  those of another file
 *
 * Nothing is written: a change is made as the file is loaded. Exits with 1 below 85 % noticed, 2 when a change no longer fits.
 */
import { readFileSync } from "node:fs";
import { resolve } from "node:path";
import { createVitest } from "vitest/node";
import { parse } from "yaml";

const LEAST = 0.85;
const rooms = parse(readFileSync(process.env.CHANGES ?? new URL("changes.yaml", import.meta.url), "utf8"));
const asked = process.argv.slice(2);
let change;

const planting = {
  name: "planted-change",
  enforce: "pre",
  transform(code, id) {
    if (!change || id.split("?")[0] !== change.path) return undefined;
    return code.replace(change.from, () => change.to);
  },
};

const vitest = await createVitest(
  "test",
  {
    watch: true,
    config: "tests/mutate/vitest.config.ts",
    bail: 1,
    maxWorkers: 1,
    reporters: [{}],
    silent: true,
  },
  { plugins: [planting], server: { watch: null } },
);

let noticed = 0;
let made = 0;
for (const [room, changes] of Object.entries(rooms)) {
  if (asked.length > 0 && !asked.includes(room)) continue;
  let specs = await vitest.globTestSpecifications([`tests/${room}`]);
  const own = new Set(specs.map((spec) => spec.moduleId));
  // Results of rooms tried before are told again.
  const run = async () => {
    const { testModules, unhandledErrors } = await vitest.runTestSpecifications(specs, true);
    return { failing: testModules.filter((m) => own.has(m.moduleId) && !m.ok()), unhandledErrors };
  };
  // What fails without any change would seem to notice all of them.
  for (let { failing } = await run(); failing.length > 0; { failing } = await run()) {
    console.log(`left out, failing without any change: ${failing.map((m) => m.relativeModuleId).join(", ")}`);
    for (const { moduleId } of failing) own.delete(moduleId);
    specs = specs.filter((spec) => own.has(spec.moduleId));
  }
  let here = 0;
  let tried = 0;
  for (const { file, from, to } of changes) {
    const path = resolve("src", file);
    const parts = readFileSync(path, "utf8").split(from);
    if (parts.length !== 2) {
      console.error(`${file}: ${JSON.stringify(from)} is there ${parts.length - 1} times`);
      process.exitCode = 2;
      continue;
    }
    tried += 1;
    change = { path, from, to };
    vitest.invalidateFile(path);
    const start = Date.now();
    const { failing, unhandledErrors } = await run();
    const isNoticed = unhandledErrors.length > 0 || failing.length > 0;
    here += isNoticed ? 1 : 0;
    console.log(
      `${isNoticed ? "noticed " : "SURVIVED"} ${((Date.now() - start) / 1000).toFixed(0).padStart(3)} s  ${file}: ${from} -> ${to || "(nothing)"}${failing[0] ? `  (${failing[0].relativeModuleId})` : ""}`,
    );
    change = undefined;
    vitest.invalidateFile(path);
  }
  console.log(`${room}: ${here} of ${tried} noticed\n`);
  noticed += here;
  made += tried;
}
await vitest.close();
if (noticed < LEAST * made) process.exitCode ??= 1;

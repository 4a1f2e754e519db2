/**
 * Makes small wrong changes in a room and counts those its own tests notice.
 *
 *   npm run mutate -- measure                       every mutant of the room (minutes to an hour)
 *   npm run mutate -- interpret/bands.ts            one file
 *   npm run mutate -- visit --sample 60 --seed 3    sixty lines drawn from the room, the same for the same seed
 *   npm run mutate -- batch/proof --tests batch/proof
 *
 * Exits with 1 below 85 % noticed. Report: .stryker/ROOM.json
 */
import { spawnSync } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { parseArgs } from "node:util";

const LEAST = 85;
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: { sample: { type: "string" }, seed: { type: "string", default: "1" }, tests: { type: "string" } },
});
const [target] = positionals;
if (!target) {
  console.error("Name a room, a folder or a file below src: npm run mutate -- measure");
  process.exit(2);
}
const room = values.tests ?? target.split("/")[0];
const files = sourcesBelow(join("src", target));
if (files.length === 0) {
  console.error(`No source file at src/${target}`);
  process.exit(2);
}
const mutate = values.sample ? drawnLines(files, Number(values.sample), Number(values.seed)) : files;
const name = target.replace(/[^a-z0-9]+/giu, "-");
mkdirSync(".stryker", { recursive: true });
const config = join(".stryker", `${name}.config.json`);
writeFileSync(
  config,
  JSON.stringify({
    testRunner: "vitest",
    plugins: ["@stryker-mutator/vitest-runner"],
    vitest: { configFile: "tests/mutate/vitest.config.ts", related: true },
    mutate,
    // Wording is pinned where it is printed; a mutant of a message in code proves little.
    mutator: { excludedMutations: ["StringLiteral"] },
    ignorePatterns: ["letters", ".evaluate", ".stryker", "examples/pictures"],
    // Its reader of tsconfig needs an older compiler; nothing here hangs on it.
    tsconfigFile: "none.json",
    // A constant of a module costs a run of every test; in a sample there is no time for that.
    ignoreStatic: values.sample !== undefined,
    concurrency: 1,
    timeoutMS: 20000,
    thresholds: { high: 95, low: LEAST, break: LEAST },
    reporters: ["clear-text", "json"],
    clearTextReporter: { allowColor: false, logTests: false, reportTests: false },
    jsonReporter: { fileName: join(".stryker", `${name}.json`) },
    tempDirName: join(".stryker", `tmp-${name}`),
  }),
);
const stryker = join(
  createRequire(import.meta.url).resolve("@stryker-mutator/core/package.json"),
  "..",
  "bin",
  "stryker.js",
);
const run = spawnSync(process.execPath, [stryker, "run", config], {
  stdio: "inherit",
  env: { ...process.env, WHORL_ROOM: room },
});
process.exit(run.status ?? 3);

function sourcesBelow(path) {
  const whole = path.endsWith(".ts") ? path : undefined;
  if (whole) return [whole];
  try {
    if (!statSync(path).isDirectory()) return [path];
  } catch {
    return [`${path}.ts`].filter((file) => statSync(file, { throwIfNoEntry: false }));
  }
  return readdirSync(path, { recursive: true, encoding: "utf8" })
    .filter((file) => file.endsWith(".ts") && !file.endsWith(".d.ts"))
    .map((file) => join(path, file))
    .sort();
}

/** Single lines of code, drawn evenly: a mutant counts only when it lies within one. */
function drawnLines(paths, count, seed) {
  const lines = paths.flatMap((file) =>
    readFileSync(file, "utf8")
      .split("\n")
      .flatMap((text, at) =>
        /[<>=+*/&|?-]|\b(?:true|false|return|if)\b/u.test(text) &&
        !/^\s*(?:import|export type|\/?\*|\/\/)/u.test(text)
          ? [`${file}:${at + 1}-${at + 1}`]
          : [],
      ),
  );
  let state = seed * 2654435761 + 12345;
  for (let i = lines.length - 1; i > 0; i--) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    const j = state % (i + 1);
    [lines[i], lines[j]] = [lines[j], lines[i]];
  }
  return lines.slice(0, count);
}

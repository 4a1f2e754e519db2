/** The same visit gives the same bytes in every process, time zone and language of the computer. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { scratch } from "../batch/command.js";
import { patients, warmProcess } from "./run-whorl.js";

const visit = join(patients, "TS-40417", "2026-03-12.yaml");

/** Neighbouring days on the clock at most hours, and a computer set to another language. */
const PLACES = [
  { TZ: "UTC", LANG: "C", LC_ALL: "C" },
  { TZ: "Pacific/Auckland", LANG: "de_DE", LC_ALL: "de_DE" },
];

let commands: ReturnType<typeof warmProcess>[] = [];
beforeAll(() => {
  commands = PLACES.map(warmProcess);
});
afterAll(() => Promise.all(commands.map(({ end }) => end())));

it.each([
  { format: "pdf", kinds: ["referral-letter", "handout", "reasoning-sheet"], more: ["--attach-visit"] },
  { format: "html", kinds: ["referral-letter", "handout", "reasoning-sheet"], more: [] },
])("$format of $kinds $more is the same in two processes far apart", async ({ format, kinds, more }) => {
  const [here, there] = await Promise.all(
    commands.map(async ({ run }) => {
      const folder = scratch();
      const ran = await run(folder, [
        ...["letter", visit, "--out", folder, "--format", format],
        ...more,
        ...["--document", ...kinds],
      ]);
      expect(ran.code, ran.err).toBe(0);
      return readdirSync(folder)
        .sort()
        .map((name) => ({ name, bytes: readFileSync(join(folder, name)) }));
    }),
  );
  expect(here?.map(({ name }) => name)).toHaveLength(kinds.length);
  expect(there?.map(({ name }) => name)).toEqual(here?.map(({ name }) => name));
  for (const [index, { name, bytes }] of (here ?? []).entries())
    expect(there?.[index]?.bytes.equals(bytes), name).toBe(true);
});

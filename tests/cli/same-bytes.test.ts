/** The same visit gives the same bytes in every process, time zone and language of the computer. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { scratch } from "../batch/command.js";
import { patients, type Ran, warmProcess, whorl } from "./run-whorl.js";

const visit = join(patients, "TS-40417", "2026-03-12.yaml");

/** Neighbouring days on the clock at most hours, and a computer set to another language. */
const FAR = {
  TZ: new Date().getTimezoneOffset() <= -720 ? "Pacific/Pago_Pago" : "Pacific/Auckland",
  LANG: "de_DE",
  LC_ALL: "de_DE",
};

let far: ReturnType<typeof warmProcess>;
beforeAll(() => {
  far = warmProcess(FAR);
});
afterAll(() => far.end());

it.each([
  { format: "pdf", kinds: ["referral-letter", "handout", "reasoning-sheet"], more: ["--attach-visit"] },
  { format: "html", kinds: ["referral-letter", "handout", "reasoning-sheet"], more: [] },
])("$format of $kinds $more is the same in two processes far apart", async ({ format, kinds, more }) => {
  const madeBy = async (run: (folder: string, args: readonly string[]) => Ran | Promise<Ran>) => {
    const folder = scratch();
    const ran = await run(folder, [
      ...["letter", visit, "--out", folder, "--format", format, "--no-proof"],
      ...more,
      ...["--document", ...kinds],
    ]);
    expect(ran.code, ran.err).toBe(0);
    return readdirSync(folder)
      .sort()
      .map((name) => ({ name, bytes: readFileSync(join(folder, name)) }));
  };
  const there = await madeBy(far.run);
  const here = await madeBy((_, args) => whorl(args));
  expect(here).toHaveLength(kinds.length);
  expect(there.map(({ name }) => name)).toEqual(here.map(({ name }) => name));
  for (const [index, { name, bytes }] of here.entries())
    expect(there[index]?.bytes.equals(bytes), name).toBe(true);
});

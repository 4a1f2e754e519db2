/** What the engine did with each list of published cases the first time it met it: kept for ever, never scored again. */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { parse, stringify } from "yaml";
import { z } from "zod";
import { BANDS } from "../../src/interpret/interpretation.js";
import type { CaseResult } from "./run-cases.js";

const seenSchema = z.strictObject({
  confirmed: z.array(z.string()).min(1),
  /** Findings recorded as present. */
  findings: z.int().min(0),
  leading: z.string(),
  band: z.enum(BANDS),
  /** Best rank of a confirmed disorder; 99 when none was weighed. */
  rank: z.int().min(1),
  /** Share of draws in which a confirmed disorder leads. */
  share: z.number().min(0).max(1),
  second: z.string().optional(),
  line: z.enum(["raised", "missed"]).optional(),
});

const roundSchema = z.strictObject({
  file: z.string(),
  date: z.string(),
  /** Commit of the engine that met the cases. */
  engine: z.string(),
  cases: z.record(z.string(), seenSchema),
});

export type FirstSeen = z.infer<typeof seenSchema>;
export type Round = z.infer<typeof roundSchema>;

/** Its name in the folder of cases. */
export const FILE = "first-sight.yaml";

const HEAD = `# What the engine did with each round of published cases on first sight: after they were encoded, before anyone changed anything
# because of them. \`npm run evaluate -- --first-sight FILE\` adds a round. Entries are never changed: they are what is honest.
`;

export function readRounds(folder: string): Round[] {
  const file = join(folder, FILE);
  return existsSync(file) ? z.array(roundSchema).parse(parse(readFileSync(file, "utf8"))) : [];
}

/** Adds a round; refuses one that was met before. */
export function addRound(folder: string, round: Omit<Round, "cases">, results: readonly CaseResult[]): void {
  const before = readRounds(folder);
  if (before.some((r) => r.file === round.file)) throw new Error(`${round.file} was met before`);
  const cases = Object.fromEntries(results.map((r) => [r.id, seenOf(r)]));
  const all = [...before, { ...round, cases }];
  writeFileSync(join(folder, FILE), HEAD + stringify(all, { collectionStyle: "any", lineWidth: 0 }));
}

function seenOf(r: CaseResult): FirstSeen {
  return {
    confirmed: [...r.confirmed],
    findings: r.findings,
    leading: r.leading,
    band: r.band,
    rank: Number.isFinite(r.rank) ? r.rank : 99,
    share: Math.round(r.confirmedLeads * 1000) / 1000,
    ...(r.second ? { second: r.second } : {}),
    ...(r.wanted === null
      ? {}
      : { line: r.mustNotMiss.includes(r.wanted) ? ("raised" as const) : ("missed" as const) }),
  };
}

/**
 * Which rules may have been written because of which case: every pattern and context rule that was added or changed once the case
 * stood in the repository, and that moves its confirmed disorder. Found from the history, so that nobody has to remember.
 */
import { execFileSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { parse, stringify } from "yaml";
import { z } from "zod";
import { factsOf } from "../../src/interpret/facts.js";
import { type RuleLine, ruleLines } from "../../src/interpret/rules.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import { type PublishedCase, visitOf } from "./read-cases.js";

/** Its name in the folder of cases. */
export const FILE = "rules-for-cases.yaml";

const HEAD = `# Rules that may have been written because of a case, which is therefore scored once more without them: all that were added or changed
# when the case stood in the repository already, and that move its confirmed disorder. Made by \`npm run evaluate -- --name-rules\`.
`;

const fileSchema = z.record(z.string(), z.array(z.string()).min(1));
const ruleSchema = z.looseObject({ id: z.string() });
const listSchema = z.array(ruleSchema);
const disorderSchema = z.looseObject({ patterns: listSchema.default([]) });

export function rulesForCases(folder: string): Readonly<Record<string, readonly string[]>> {
  return fileSchema.parse(parse(readFileSync(join(folder, FILE), "utf8")) ?? {});
}

/** Writes the file anew from the history of the repository. */
export function nameRules(
  folder: string,
  cases: readonly (PublishedCase & { file: string })[],
  knowledge: Knowledge,
): void {
  const now = rulesIn(join(process.cwd(), "src", "knowledge"));
  const before = new Map<string, Readonly<Record<string, string>>>();
  const named: Record<string, string[]> = {};
  for (const c of cases) {
    const since = git("log", "--reverse", "--format=%h", `-S- id: ${c.id}\n`, "--", "tests/cases").split(
      "\n",
    )[0];
    if (!since) continue;
    const then = before.get(since) ?? rulesAt(since);
    before.set(since, then);
    // What came in with a new disorder only keeps that one at bay.
    const moves = moving(c, knowledge)
      .filter((l) => then[`${l.disorder}.yaml`] !== undefined && then[l.id] !== now[l.id])
      .map((l) => l.id);
    if (moves.length > 0) named[c.id] = [...new Set(moves)].sort();
  }
  writeFileSync(join(folder, FILE), HEAD + stringify(named, { lineWidth: 0 }));
}

/** Rules that hold for the case and speak for its confirmed disorder, or against another one. */
function moving(c: PublishedCase, knowledge: Knowledge): RuleLine[] {
  const { visit, measures } = visitOf(c, knowledge);
  return ruleLines(factsOf(visit, measures, knowledge)).filter((l) =>
    c.confirmed.includes(l.disorder) ? l.weight > 0 : l.weight < 0,
  );
}

/** What each rule says, by id, and which files there are; the same words count as the same rule. */
function rulesIn(root: string): Record<string, string> {
  const found: Record<string, string> = {};
  for (const [room, schema] of [
    ["disorders", disorderSchema],
    ["context", listSchema],
  ] as const) {
    const at = join(root, room);
    for (const file of existsSync(at) ? readdirSync(at) : []) {
      found[file] = "";
      const read = schema.parse(parse(readFileSync(join(at, file), "utf8")));
      for (const { id, ...rule } of Array.isArray(read) ? read : read.patterns) {
        const { when, weight, shifts } = rule;
        found[id] = JSON.stringify({ when: withoutAnswers(when), weight, shifts });
      }
    }
  }
  return found;
}

/** A condition without recorded answers: published cases have none, so that such a part was not written for one. */
function withoutAnswers(when: unknown): unknown {
  if (Array.isArray(when)) return when.filter((part) => !isAnswer(part)).map(withoutAnswers);
  if (typeof when !== "object" || when === null) return when;
  const parts = Object.entries(when).map(([key, part]) => [key, withoutAnswers(part)] as const);
  const [first] = parts;
  if (parts.length === 1 && first?.[0] === "any" && Array.isArray(first[1]) && first[1].length === 1)
    return first[1][0];
  return Object.fromEntries(parts);
}

function isAnswer(part: unknown): boolean {
  return typeof part === "object" && part !== null && "fact" in part && "by" in part && part.by === "answer";
}

/** The rules as they stood before the commit. */
function rulesAt(commit: string): Record<string, string> {
  const folder = mkdtempSync(join(tmpdir(), "rules-"));
  try {
    const tar = execFileSync("git", ["archive", `${commit}~`, "src/knowledge"], { maxBuffer: 1 << 28 });
    execFileSync("tar", ["-x", "-C", folder], { input: tar });
    return rulesIn(join(folder, "src", "knowledge"));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function git(...args: string[]): string {
  return execFileSync("git", args, { encoding: "utf8" }).trim();
}

/** Small knowledge folders to break: a few of the shipped findings and the sources, plus files planted by a test. */
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";
import type { Problem } from "../../src/base/problem.js";
import { knowledgeFolder, readKnowledge } from "../../src/knowledge/load.js";

/** Marks the line on which a problem is expected. */
export const HERE = "# here";

/** Those that the planted files name, and the one that the rules of weighing name. */
const SHIPPED = ["comma-hairs.yaml", "yellow-dots.yaml", "follicular-pustules.yaml"];

/** The shipped sources that these and the rules of weighing cite, and those that planted files cite; others only take time to read. */
const SOURCES = citedOf(
  readFileSync(join(knowledgeFolder, "sources.yaml"), "utf8"),
  ["weighing.yaml", ...SHIPPED.map((file) => join("findings", file))]
    .map((file) => readFileSync(join(knowledgeFolder, file), "utf8"))
    .join(" hu2014 miteva2013-biopsy "),
);

function citedOf(sources: string, texts: string): string {
  const words = new Set(texts.match(/[\w-]+/gu));
  const cited = sources
    .split(/^(?=\S)/mu)
    .filter((entry) => words.has(entry.slice(0, entry.indexOf(":"))))
    .join("");
  // A review names those it covers.
  return texts.includes(cited) ? cited : citedOf(sources, texts + cited);
}

/** Runs `use` on a fresh folder that holds the shipped findings, their sources and the given files. */
export function withFolder<T>(files: Readonly<Record<string, string>>, use: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), "whorl-knowledge-"));
  try {
    for (const finding of SHIPPED)
      cpSync(join(knowledgeFolder, "findings", finding), join(folder, "findings", finding));
    writeFileSync(join(folder, "sources.yaml"), SOURCES);
    for (const [name, text] of Object.entries(files)) {
      mkdirSync(dirname(join(folder, name)), { recursive: true });
      writeFileSync(join(folder, name), text);
    }
    return use(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** The problems found in one planted file. */
export function problemsIn(file: string, text: string): readonly Problem[] {
  return withFolder({ [file]: text }, (folder) =>
    readKnowledge(folder).problems.filter((p) => basename(p.file ?? "") === basename(file)),
  );
}

/** Line of the marker, counted from 1. */
export function markedLine(text: string): number {
  return text.split("\n").findIndex((l) => l.endsWith(HERE)) + 1;
}

/** A finding that is right in every way. `more` is added at the end. */
export function findingText(more = ""): string {
  return `term: lantern hairs
also: [lantern hair]
group: hair shaft
what: An invented structure for a test.
plain:
  name: hairs shaped like a lantern
  means: It is here to try the loader.
mechanism: alone
share: 1
one_alone_counts: true
elsewhere: { percent: [0, 5], basis: common practice }
${more}`;
}

/** A disorder that is right in every way. `more` is added at the end. */
export function disorderText(more = ""): string {
  return `term: lantern alopecia
icd10: { code: L65.9, title: Nonscarring hair loss, how: memory }
family: non-scarring
base: { weight: 0, basis: common practice }
letter: { about: An invented disorder for a test. }
patient:
  name: lantern hair loss
  is: [It is here to try the loader.]
  means: [Nothing.]
  next: [Nothing.]
  ask: [What is it?]
${more}`;
}

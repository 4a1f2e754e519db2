/** The lines from which the words that tell a red flag are learned, and those on which they are tried. */
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "yaml";
import type { MentionPlace } from "../../../src/knowledge/condition.js";
import type { Knowledge } from "../../../src/knowledge/schema.js";
import { NO_TOLD } from "../../../src/knowledge/told-schema.js";
import { readProse, wordsOf } from "../../../src/visit/prose/read-prose.js";
import { windows } from "../../../src/visit/prose/told-words.js";

export interface Line {
  readonly text: string;
  /** The flag it is about; undefined for an ordinary line. */
  readonly fact: string | undefined;
  readonly told: boolean;
  /** Who wrote it. */
  readonly writer: string;
  /** Stems of each sentence, and of every two in a row. */
  readonly windows: readonly (readonly string[])[];
  /** Stems of the whole line. */
  readonly stems: readonly string[];
  /** Flags that the lists of wordings find in it. */
  readonly listed: ReadonlySet<string>;
  /** Those among them that clues alone tell. */
  readonly hinted: ReadonlySet<string>;
}

type Lists = Readonly<Record<string, { readonly told: readonly string[]; readonly near: readonly string[] }>>;

export const folder = (root: string): string => join(root, "tests", "prose", "told");
const WRITER = /^([a-z])\.yaml$/u;

export const filesOf = (root: string): string[] =>
  readdirSync(folder(root))
    .filter((f) => WRITER.test(f) || f === "ordinary.yaml")
    .sort();

/** Of the lines alone, whatever their comments. */
export function digestOf(root: string): string {
  const hash = createHash("sha256");
  for (const file of filesOf(root))
    hash.update(JSON.stringify(parse(readFileSync(join(folder(root), file), "utf8"))));
  return hash.digest("hex").slice(0, 16);
}

/** Every line, with what the lists of wordings find in it; told words are left out of that. */
export function readLines(root: string, knowledge: Knowledge): Line[] {
  const bare: Knowledge = { ...knowledge, told: NO_TOLD };
  const line = lineMaker(bare);
  return filesOf(root).flatMap((file): Line[] => {
    const value: unknown = parse(readFileSync(join(folder(root), file), "utf8"));
    const writer = WRITER.exec(file)?.[1];
    if (!writer)
      return (value as { ordinary: string[] }).ordinary.map((text) =>
        line(text, undefined, false, "ordinary"),
      );
    return Object.entries(value as Lists).flatMap(([fact, { told, near }]) => [
      ...told.map((text) => line(text, fact, true, writer)),
      ...near.map((text) => line(text, fact, false, writer)),
    ]);
  });
}

/** Keys of a case or a visit that hold words. */
const TOLD_UNDER: ReadonlySet<string> = new Set(
  "notes reason past triggers medicines scalp eyebrows eyelashes nails skin mouth lymph_nodes body_hair".split(
    " ",
  ),
);

/**
 * What cases and harmless visits tell in words (`tests/cases`, `tests/hazards`, `examples`): mostly of no danger, and where the lists find one, not taken
 * for ordinary of it.
 */
export function caseLines(root: string, knowledge: Knowledge): Line[] {
  const line = lineMaker({ ...knowledge, told: NO_TOLD });
  const texts = new Set<string>();
  const walk = (value: unknown, key: string): void => {
    if (typeof value === "string") {
      if (TOLD_UNDER.has(key) && value.length > 12) texts.add(value);
    } else if (Array.isArray(value)) for (const one of value) walk(one, key);
    else if (value && typeof value === "object") for (const [k, one] of Object.entries(value)) walk(one, k);
  };
  const read = (...path: string[]): unknown => parse(readFileSync(join(root, "tests", ...path), "utf8"));
  const files = (room: string) =>
    readdirSync(join(root, "tests", room))
      .filter((f) => f.endsWith(".yaml"))
      .sort();
  for (const file of files("cases")) walk(read("cases", file), "");
  // Visits that hold no danger, though many sound so.
  for (const file of files("hazards")) {
    const list = read("hazards", file);
    if (!Array.isArray(list)) continue;
    for (const one of list as { kind?: unknown; visit?: unknown }[])
      if (one.kind === "look-alike" || one.kind === "healthy") walk(one.visit, "");
  }
  const { quiet: told = [] } = read("hazards", "told.yaml") as { quiet?: readonly (readonly unknown[])[] };
  for (const text of told.map((line) => line.at(-1))) if (typeof text === "string") texts.add(text);
  for (const value of [read("hazards", "phrases.yaml"), read("prose", "oblique.yaml")])
    for (const { leave_alone: quiet = [] } of Object.values(
      value as Record<string, { leave_alone?: string[] }>,
    ))
      for (const text of quiet) texts.add(text);
  const patients = join(root, "examples", "patients");
  for (const file of readdirSync(patients, { recursive: true, encoding: "utf8" }).sort())
    if (file.endsWith(".yaml") && !file.endsWith(".marks.yaml"))
      walk(parse(readFileSync(join(patients, file), "utf8")), "");
  return [...texts].map((text) => line(text, undefined, false, "cases"));
}

function lineMaker(knowledge: Knowledge) {
  const { readerIndex: _, ...rest } = knowledge;
  const plain: Knowledge = {
    ...rest,
    facts: Object.fromEntries(
      Object.entries(knowledge.facts).map(([id, fact]) => [id, { ...fact, hinted: {} }]),
    ),
  };
  const moment = { year: 2026 };
  const place: MentionPlace = "notes";
  return (text: string, fact: string | undefined, told: boolean, writer: string): Line => {
    const words = wordsOf(text, knowledge, moment).map((s) => s.map((w) => w.token.stem));
    const read = (known: Knowledge) =>
      readProse([{ where: "line", place, text }], known, moment)
        .filter((r) => r.state === "present" || r.state === "doubtful")
        .map((r) => r.fact);
    const listed = new Set<string>(read(knowledge));
    const plainly = new Set<string>(listed.size > 0 ? read(plain) : []);
    return {
      text,
      fact,
      told,
      writer,
      windows: windows(words).map((w) => [...new Set(w)]),
      stems: [...new Set(words.flat())],
      listed,
      hinted: new Set([...listed].filter((f) => !plainly.has(f))),
    };
  };
}

/** Reads a visit file: YAML text to a checked Visit, or to every problem in it, each with its place. */
import { readFileSync, statSync } from "node:fs";
import { hasError, type Outcome, type Problem } from "../base/problem.js";
import type { Knowledge } from "../knowledge/schema.js";
import { findingWords } from "../picture/marks-schema.js";
import { applyAccepted } from "./accept.js";
import { photosOnDisk } from "./beside-photo.js";
import type { CheckContext } from "./check-context.js";
import { contradictions } from "./contradictions/contradictions.js";
import { decodeText, fileProblem, MAX_BYTES, tooBig } from "./decode.js";
import { fillFromMarks, type PhotoReader } from "./marked-photos.js";
import { missing } from "./missing.js";
import { openText } from "./open-text.js";
import { type Places, placeProblems, placesIn } from "./places.js";
import { readValues } from "./read-values.js";
import { reporter } from "./report.js";
import { type VisitFile, type VisitFileSchema, visitFileSchema } from "./schema.js";
import { suspiciousText } from "./suspicious-text.js";
import { toVisit } from "./to-visit.js";
import type { Visit } from "./visit.js";
import { visitWords } from "./visit-words.js";

export { type Places, placeProblems } from "./places.js";

export interface ReadOptions {
  /** ISO date; visits after it draw a warning. */
  readonly today?: string;
  /** Finds the marks beside the photos; without it none are read. */
  readonly beside?: PhotoReader;
}

/** A Visit with where its parts stand, or the problems that stopped it. */
export interface VisitRead extends Outcome<Visit> {
  readonly places?: Places;
}

/**
 * The Visit in `text`, or the problems that stop it; warnings and notes come with the Visit. `file` is only named in
 * the problems. Never throws on any text.
 */
export function parseVisit(
  text: string,
  file: string,
  knowledge: Knowledge,
  options: ReadOptions = {},
): VisitRead {
  const { source, problems } = openText(text, file);
  if (!source) return { problems };
  const { values: typed, problems: misread } = readValues(source, schemaOf(knowledge), visitWords(knowledge));
  problems.push(...misread);
  const filled =
    typed && options.beside ? fillFromMarks(typed, source, options.beside, markWords(knowledge)) : undefined;
  const values = filled?.values ?? typed;
  problems.push(...(filled?.problems ?? []));
  if (values) {
    const { report, reported } = reporter(source, problems);
    const look: CheckContext = { file: values, report, ...(options.today ? { today: options.today } : {}) };
    missing(look);
    contradictions(look);
    problems.push(...reported);
  }
  problems.push(...suspiciousText(source, problems));
  const settled = inReadingOrder(applyAccepted(problems, acceptedIn(values)));
  if (!values || hasError(settled)) return { problems: settled };
  const marks = filled && filled.marked.length > 0 ? { marks: filled.marked } : {};
  return { value: { ...toVisit(values), ...marks }, problems: settled, places: placesIn(source, values) };
}

/** As `parseVisit`, from a file on disk with the marks beside its photos; today is taken from the clock when not given. */
export function readVisit(file: string, knowledge: Knowledge, options: ReadOptions = {}): VisitRead {
  const { value: text, problems } = readText(file);
  if (text === undefined) return { problems };
  const today = options.today ?? new Date().toISOString().slice(0, 10);
  const { beside } = photosOnDisk(file);
  return parseVisit(text, file, knowledge, { beside, ...options, today });
}

/** The text of a file of at most 1 MiB, or why there is none. */
export function readText(file: string): Outcome<string> {
  try {
    // Asked before opening: a pipe would keep the program waiting.
    const stat = statSync(file);
    if (!stat.isFile()) {
      const what = stat.isDirectory() ? "a folder" : "no ordinary file";
      return { problems: [fileProblem("not-a-file", file, `${what} where a file belongs`)] };
    }
    if (stat.size > MAX_BYTES) return { problems: [tooBig(stat.size, file)] };
    const { text, problem } = decodeText(readFileSync(file), file);
    return text === undefined ? { problems: problem ? [problem] : [] } : { value: text, problems: [] };
  } catch (error) {
    return { problems: [whyUnread(file, error)] };
  }
}

function whyUnread(file: string, error: unknown): Problem {
  const code = error instanceof Error && "code" in error ? String(error.code) : "";
  if (code === "ENOENT" || code === "ENOTDIR" || code === "ENAMETOOLONG" || code === "ERR_INVALID_ARG_VALUE")
    return fileProblem("missing-file", file, "there is no such file");
  if (code === "EISDIR") return fileProblem("not-a-file", file, "a folder where a file belongs");
  return fileProblem("unreadable-file", file, `the file cannot be read${code ? ` (${code})` : ""}`);
}

const schemas = new WeakMap<Knowledge, VisitFileSchema>();

function schemaOf(knowledge: Knowledge): VisitFileSchema {
  const known = schemas.get(knowledge);
  if (known) return known;
  const schema = visitFileSchema(visitWords(knowledge));
  schemas.set(knowledge, schema);
  return schema;
}

const markable = new WeakMap<Knowledge, ReturnType<typeof findingWords>>();

/** The findings by their spellings, as marks use them; made once. */
export function markWords(knowledge: Knowledge): ReturnType<typeof findingWords> {
  const known = markable.get(knowledge) ?? findingWords(knowledge.findings);
  markable.set(knowledge, known);
  return known;
}

function acceptedIn(values: VisitFile | undefined): { id: string; reason: string }[] {
  return (values?.accept ?? []).flatMap((line) =>
    line?.id && line.reason ? [{ id: line.id, reason: line.reason }] : [],
  );
}

/** Problems of other rooms about a Visit: placed, with those the clinician has accepted turned into notes, in order. */
export function placeAndAccept({ value, places }: VisitRead, problems: readonly Problem[]): Problem[] {
  return inReadingOrder(applyAccepted(placeProblems(places, problems), value?.accept ?? []));
}

const RANK = { error: 0, warning: 1, note: 2 } as const;

/** Errors, then warnings, then notes; each in file order. */
export function inReadingOrder(problems: readonly Problem[]): Problem[] {
  return problems.toSorted(
    (a, b) =>
      RANK[a.severity] - RANK[b.severity] ||
      (a.line ?? 0) - (b.line ?? 0) ||
      (a.column ?? 0) - (b.column ?? 0),
  );
}

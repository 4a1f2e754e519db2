/** One value as a form takes it: read by the rules of its key in the visit file, with the same words when it cannot be. */
import type { KeyPath, YamlSource } from "../base/yaml-source.js";
import type { Knowledge } from "../knowledge/schema.js";
import { problemsOfIssues } from "./issues.js";
import { VISIT_REQUIRED } from "./required.js";
import { visitFileSchema } from "./schema.js";
import { schemaAt } from "./schema-walk.js";
import { visitWords } from "./visit-words.js";

export interface KeyRead {
  /** What the key would hold; undefined for a value left empty or refused. */
  readonly value?: unknown;
  /** Why it is refused. */
  readonly problem?: {
    readonly id: string;
    readonly message: string;
    readonly expected?: string | undefined;
    readonly suggestion?: string | undefined;
  };
}

/**
 * What `written` means at a key such as `["patient", "born"]` (entries of lists by any number): `25/06/97` and
 * `tomorrow` are no dates, `ZZ 1/2` is no number of a patient. A required key refuses to be left empty.
 */
export function readKey(knowledge: Knowledge, path: KeyPath, written: string): KeyRead {
  const words = visitWords(knowledge);
  const schema = schemaAt(visitFileSchema(words), path);
  if (!schema) throw new Error(`no such key in a visit file: ${path.join(".")}`);
  const read = schema.safeParse(written.trim() === "" ? null : written);
  if (!read.success) {
    const issues = read.error.issues.map((issue) => ({ ...issue, path: [...path, ...issue.path] }));
    const [problem] = problemsOfIssues(asSource(path, written), visitFileSchema(words), issues, words);
    if (problem) {
      const { id, message, expected, suggestion } = problem;
      return { problem: { id, message, expected, suggestion } };
    }
  }
  const value = read.data ?? undefined;
  if (value !== undefined) return { value };
  const at = path.slice(0, -1).map((step) => (typeof step === "number" ? "[]" : `.${step}`));
  const row = VISIT_REQUIRED.find(
    (required) => `.${required.at}` === at.join("") && required.key === path.at(-1),
  );
  return row ? { problem: { id: "missing-key", message: `${row.says} is missing` } } : {};
}

/** A source that holds the one value; it has no lines to point at. */
function asSource(path: KeyPath, written: string): YamlSource {
  const value = path.reduceRight<unknown>(
    (inner, step) => (typeof step === "number" ? [inner] : { [step]: inner }),
    written,
  );
  return { file: "", value, lines: [], place: () => ({ line: 1, column: 1, length: 1 }) };
}

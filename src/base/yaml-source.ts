/** YAML text with positions: parsed within limits, so that any later check can point at the line it speaks of. */

import {
  Composer,
  type Document,
  type DocumentOptions,
  isAlias,
  isMap,
  isNode,
  isScalar,
  isSeq,
  Lexer,
  LineCounter,
  type Pair,
  type ParseOptions,
  Parser,
  type Range,
  type ScalarTag,
  type SchemaOptions,
  visit as walk,
  YAMLParseError,
} from "yaml";
import type { z } from "zod";
import type { Problem } from "./problem.js";
import type { ProblemId } from "./problem-table.js";

/** Aliases may expand to no more than this many nodes, so that a few lines cannot fill the memory. */
const MAX_ALIASES = 50;
const MAX_DEPTH = 40;

export type KeyPath = readonly (string | number)[];

export interface SourcePlace {
  readonly line: number;
  readonly column: number;
  readonly length: number;
}

export interface YamlSource {
  readonly file: string;
  /** Plain value; undefined for an empty file. */
  readonly value: unknown;
  readonly lines: readonly string[];
  /** Place of the value at `path`, or of its nearest parent. With `key`, the place of that key in the map at `path`. */
  place(path: KeyPath, key?: string): SourcePlace;
}

export interface YamlOptions {
  /** Every scalar stays the text it was written as (`0141`, `no`, `3.0`), save for nothing, `~` and `null`, which are null. */
  readonly asWritten?: boolean;
}

/** `sites[0].findings.yellow dots` */
export function writePath(path: KeyPath): string {
  return path.map((p, i) => (typeof p === "number" ? `[${p}]` : i === 0 ? p : `.${p}`)).join("");
}

/** The path that `writePath` wrote; a key with a dot in it comes back in parts. */
export function readPath(path: string): (string | number)[] {
  return path
    .split(/\.|(?=\[\d+\])/u)
    .filter((step) => step !== "")
    .map((step) => (/^\[\d+\]$/u.test(step) ? Number(step.slice(1, -1)) : step));
}

/**
 * Parses one YAML document. Syntax errors, duplicate keys, several documents, deep nesting and alias bombs come back as
 * problems, never as a throw. With duplicate keys alone the source comes too, the last of each key standing.
 */
export function openYaml(
  text: string,
  file: string,
  options: YamlOptions = {},
): { source?: YamlSource; problems: Problem[] } {
  const counter = new LineCounter();
  const lines = text.split(/\r\n|\r|\n/u);
  const at = placesIn(lines, counter);
  const error = (id: ProblemId, message: string, place: SourcePlace): Problem => ({
    severity: "error",
    id,
    message,
    file,
    ...place,
  });
  const tokens = [...new Lexer().lex(text)];
  const beyond = firstBeyondLimits(tokens);
  if (beyond) {
    counter.addNewLine(0);
    for (let i = text.indexOf("\n"); i !== -1; i = text.indexOf("\n", i + 1)) counter.addNewLine(i + 1);
    return { problems: [error(beyond.id, beyond.message, at(beyond.offset))] };
  }
  const doc = documentOf(tokens, text.length, counter, {
    prettyErrors: false,
    uniqueKeys: false,
    version: "1.2",
    stringKeys: true,
    merge: false,
    logLevel: "error",
    ...(options.asWritten
      ? { schema: "failsafe", resolveKnownTags: false, customTags: (tags) => [...tags, nothing] }
      : {}),
  });
  const broken = new Map<number, Problem>();
  for (const e of doc.errors) {
    const place = at(e.pos[0], e.pos[1]);
    const id = e.code === "MULTIPLE_DOCS" ? "several-documents" : "yaml-syntax";
    if (!broken.has(place.line)) broken.set(place.line, error(id, plainWords(e.code, e.message), place));
  }
  if (broken.size > 0) return { problems: [...broken.values()] };
  const circle = tokens.some((token) => token.startsWith("*")) ? aliasInItself(doc) : undefined;
  if (circle)
    return { problems: [error("too-many-aliases", "an alias (*) inside what it repeats", at(...circle))] };
  const problems = duplicateKeys(doc.contents, at, error);
  let value: unknown;
  try {
    value = doc.toJS({ maxAliasCount: MAX_ALIASES });
  } catch (e) {
    const unresolved = firstAlias(doc);
    const place = at(...unresolved);
    const message = e instanceof Error ? e.message : "";
    return {
      problems: [
        /unresolved/iu.test(message)
          ? error("yaml-syntax", "a value that begins with * repeats an anchor (&) that is not there", place)
          : error("too-many-aliases", "repeats itself by alias (*) too often", place),
      ],
    };
  }
  return { source: { file, value: value ?? undefined, lines, place: finder(doc, at) }, problems };
}

/** As the library's own `parseDocument` does it, from tokens that have been looked at already: finding them is a third of the work. */
function documentOf(
  tokens: readonly string[],
  length: number,
  lineCounter: LineCounter,
  options: ParseOptions & DocumentOptions & SchemaOptions,
): Document.Parsed {
  const parser = new Parser(lineCounter.addNewLine);
  lineCounter.addNewLine(0);
  const parsed = function* () {
    for (const token of tokens) yield* parser.next(token);
    yield* parser.end();
  };
  const [doc, next] = new Composer({ ...options, lineCounter }).compose(parsed(), true, length);
  if (!doc) throw new Error("yaml: no document");
  if (next) doc.errors.push(new YAMLParseError([next.range[0], next.range[1]], "MULTIPLE_DOCS", ""));
  return doc as Document.Parsed;
}

const NOTHING = /^(?:~|null)?$/u;

/** Nothing at all, `~` or `null`, unquoted; written back as it stood. */
export const nothing: ScalarTag = {
  tag: "tag:yaml.org,2002:null",
  default: true,
  identify: (value) => value === null,
  test: NOTHING,
  resolve: () => null,
  stringify: ({ source }) => (typeof source === "string" && NOTHING.test(source) ? source : "null"),
};

type At = (offset: number, end?: number) => SourcePlace;

function placesIn(lines: readonly string[], counter: LineCounter): At {
  return (offset, end = offset + 1) => {
    const pos = counter.linePos(offset);
    const line = Math.max(1, pos.line);
    const column = Math.max(1, pos.col);
    const rest = (lines[line - 1]?.length ?? 0) - column + 1;
    return { line, column, length: Math.max(1, Math.min(end - offset, rest)) };
  };
}

/** Tokens by which the lexer marks a document, a broken flow and a scalar; they stand for no text. */
const MARKS: ReadonlySet<string> = new Set(["\u0002", "\u0018", "\u001f"]);

/**
 * Where nesting or aliases pass their limit, found on the token stream: the parser itself recurses, and a deep enough
 * file would end the process rather than throw.
 */
function firstBeyondLimits(
  tokens: readonly string[],
): { id: ProblemId; message: string; offset: number } | undefined {
  const blocks: number[] = [];
  let flows = 0;
  let aliases = 0;
  let offset = 0;
  let lineStart = 0;
  let fresh = true;
  for (const token of tokens) {
    const column = offset - lineStart;
    if (token === "[" || token === "{") flows++;
    else if (token === "]" || token === "}") flows = Math.max(0, flows - 1);
    if (flows === 0 && !MARKS.has(token) && token.trim() !== "") {
      if (fresh) while (blocks.length > 0 && (blocks.at(-1) ?? 0) >= column) blocks.pop();
      if (fresh || token === "-" || token === "?") blocks.push(column);
      fresh = false;
    }
    if (flows + blocks.length > MAX_DEPTH)
      return { id: "too-deep", message: `nested more than ${MAX_DEPTH} levels deep`, offset };
    if (token.startsWith("*") && ++aliases > MAX_ALIASES)
      return { id: "too-many-aliases", message: `more than ${MAX_ALIASES} aliases (*)`, offset };
    if (!MARKS.has(token)) offset += token.length;
    const newline = token.lastIndexOf("\n");
    if (newline !== -1) {
      lineStart = offset - (token.length - newline - 1);
      fresh = true;
    }
  }
  return undefined;
}

function duplicateKeys(
  contents: Document.Parsed["contents"],
  at: At,
  error: (id: ProblemId, message: string, place: SourcePlace) => Problem,
): Problem[] {
  const problems: Problem[] = [];
  const look = (node: unknown): void => {
    if (isSeq(node)) node.items.forEach(look);
    if (!isMap(node)) return;
    const seen = new Map<string, Range>();
    for (const { key } of node.items) {
      if (!isScalar(key) || !key.range) continue;
      const word = String(key.value);
      const first = seen.get(word);
      if (first) {
        const { line, column } = at(first[0], first[1]);
        problems.push({
          ...error("duplicate-key", `"${word}" is written twice here`, at(key.range[0], key.range[1])),
          found: word,
          expected: "each key once",
          related: [{ message: "first written here", line, column }],
        });
      } else seen.set(word, key.range);
    }
    for (const { key, value } of node.items) {
      look(key);
      look(value);
    }
  };
  look(contents);
  return problems;
}

/** The first alias that stands inside what it repeats. */
function aliasInItself(doc: Document.Parsed): [number, number] | undefined {
  let range: [number, number] | undefined;
  walk(doc, {
    Alias(_key, alias, path) {
      const target = alias.resolve(doc);
      if (!target || !(path as readonly unknown[]).includes(target)) return undefined;
      range = [alias.range?.[0] ?? 0, alias.range?.[1] ?? 1];
      return walk.BREAK;
    },
  });
  return range;
}

function firstAlias(doc: Document.Parsed): [number, number] {
  let range: [number, number] = [0, 1];
  walk(doc, {
    Alias(_key, alias) {
      if (!alias.range || alias.resolve(doc)) return undefined;
      range = [alias.range[0], alias.range[1]];
      return walk.BREAK;
    },
  });
  return range;
}

function finder(doc: Document.Parsed, at: At): YamlSource["place"] {
  const nodeAt = (path: KeyPath): unknown => {
    let node: unknown = doc.contents;
    for (const step of path) {
      if (isAlias(node)) node = node.resolve(doc);
      node = doc.contents && isNode(node) && "get" in node ? node.get(step, true) : undefined;
    }
    return node;
  };
  return (path, key) => {
    const here = [...path];
    for (;;) {
      const node = nodeAt(here);
      if (key !== undefined && here.length === path.length) {
        const map = isAlias(node) ? node.resolve(doc) : node;
        const pair = isMap(map)
          ? map.items.findLast((p: Pair) => isScalar(p.key) && String(p.key.value) === key)
          : undefined;
        if (isNode(pair?.key) && pair.key.range) return at(pair.key.range[0], pair.key.range[1]);
      }
      if (isNode(node) && node.range) return at(node.range[0], node.range[1]);
      if (here.length === 0) return { line: 1, column: 1, length: 1 };
      here.pop();
    }
  };
}

const PLAIN_WORDS: Readonly<Record<string, string>> = {
  TAB_AS_INDENT: "a tab is used to indent; use spaces",
  MULTILINE_IMPLICIT_KEY: "this line is neither a key nor a value; a key needs a colon and a space after it",
  BLOCK_AS_IMPLICIT_KEY: "a second colon in one line, or a line indented too far",
  BAD_INDENT: "the indentation does not match the lines above, or a bracket is not closed",
  BAD_SCALAR_START: "a value cannot begin with this character; put it in quotes",
  NON_STRING_KEY: "a key must be plain words",
  MULTIPLE_DOCS: "a second document begins here (---); one file holds one visit",
  BAD_DQ_ESCAPE: 'a backslash inside "..." has a meaning of its own; use single quotes',
  BLOCK_IN_FLOW: "a list or block cannot stand inside brackets like this",
  UNEXPECTED_TOKEN:
    "something here does not belong; often a quote, comma or bracket too many, or a list mixed with keys",
  KEY_OVER_1024_CHARS: "this key is far too long; a colon or line break may be missing",
};

function plainWords(code: string, message: string): string {
  if (code === "MISSING_CHAR") {
    const closing = message.match(/^Missing closing (.)/u)?.[1];
    if (closing) return `a quote (${closing}) is opened and never closed`;
    return "a key without its colon, or a bracket without its partner";
  }
  return PLAIN_WORDS[code] ?? `not readable as YAML: ${message}`;
}

/** Plain placed problems from zod issues: the general form, used for knowledge files. */
export function problemsFromIssues(source: YamlSource, issues: readonly z.core.$ZodIssue[]): Problem[] {
  return issues.flatMap((issue): Problem[] => {
    const path = issue.path.map((p) => (typeof p === "number" ? p : String(p)));
    if (issue.code === "unrecognized_keys") {
      return issue.keys.map((key) => ({
        severity: "error" as const,
        id: "unknown-key",
        message: `unknown key "${key}"`,
        file: source.file,
        path: writePath([...path, key]),
        ...source.place(path, key),
      }));
    }
    return [
      {
        severity: "error" as const,
        id: "wrong-shape",
        message: issue.message,
        file: source.file,
        path: writePath(path),
        ...source.place(path),
      },
    ];
  });
}

/** The raw value at a path; undefined where there is none. */
export function valueAt(value: unknown, path: KeyPath): unknown {
  let here = value;
  for (const step of path) {
    if (here === null || typeof here !== "object" || !Object.hasOwn(here, step)) return undefined;
    here = (here as Record<string | number, unknown>)[step];
  }
  return here;
}

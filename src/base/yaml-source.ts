/** YAML text with positions: parsed within limits, so that any later check can point at the line it speaks of. */
import { isMap, isNode, isScalar, LineCounter, type Pair, parseDocument, visit as walk } from "yaml";
import type { z } from "zod";
import type { Problem } from "./problem.js";

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

/** `sites[0].findings.yellow dots` */
export function writePath(path: KeyPath): string {
  return path.map((p, i) => (typeof p === "number" ? `[${p}]` : i === 0 ? p : `.${p}`)).join("");
}

/**
 * Parses one YAML document. Syntax errors, duplicate keys, several documents, deep nesting and alias bombs come back as
 * problems, never as a throw.
 */
export function openYaml(text: string, file: string): { source?: YamlSource; problems: Problem[] } {
  const counter = new LineCounter();
  const lines = text.split(/\r\n|\r|\n/u);
  const problems: Problem[] = [];
  const at = (offset: number, end = offset + 1): SourcePlace => {
    const pos = counter.linePos(offset);
    const line = Math.max(1, pos.line);
    const column = Math.max(1, pos.col);
    const rest = (lines[line - 1]?.length ?? 0) - column + 1;
    return { line, column, length: Math.max(1, Math.min(end - offset, rest)) };
  };
  const doc = parseDocument(text, {
    lineCounter: counter,
    prettyErrors: false,
    uniqueKeys: true,
    version: "1.2",
    stringKeys: true,
    logLevel: "silent",
  });
  for (const e of doc.errors) {
    const place = at(e.pos[0], e.pos[1]);
    problems.push({ severity: "error", id: yamlProblemId(e.code), message: e.message, file, ...place });
  }
  if (problems.length > 0) return { problems };
  let tooDeep: number | undefined;
  walk(doc, {
    Node(_key, node, path) {
      if (path.length > MAX_DEPTH * 2 && tooDeep === undefined) {
        tooDeep = node.range?.[0] ?? 0;
        return walk.BREAK;
      }
      return undefined;
    },
  });
  if (tooDeep !== undefined) {
    const place = at(tooDeep);
    return {
      problems: [
        { severity: "error", id: "too-deep", message: "nested deeper than a visit can be", file, ...place },
      ],
    };
  }
  let value: unknown;
  try {
    value = doc.toJS({ maxAliasCount: MAX_ALIASES });
  } catch {
    return {
      problems: [
        {
          severity: "error",
          id: "too-many-aliases",
          message: "repeats itself by alias too often",
          file,
          line: 1,
          column: 1,
        },
      ],
    };
  }
  const place = (path: KeyPath, key?: string): SourcePlace => {
    const here = [...path];
    for (;;) {
      const node = here.length === 0 ? doc.contents : doc.getIn(here, true);
      if (key !== undefined && here.length === path.length && isMap(node)) {
        const pair = node.items.find((p: Pair) => isScalar(p.key) && String(p.key.value) === key);
        const keyNode = pair?.key;
        if (isNode(keyNode) && keyNode.range) return at(keyNode.range[0], keyNode.range[1]);
      }
      if (isNode(node) && node.range) return at(node.range[0], node.range[1]);
      if (here.length === 0) return { line: 1, column: 1, length: 1 };
      here.pop();
    }
  };
  return { source: { file, value: value ?? undefined, lines, place }, problems };
}

function yamlProblemId(code: string): string {
  return code === "DUPLICATE_KEY"
    ? "duplicate-key"
    : code === "MULTIPLE_DOCS"
      ? "several-documents"
      : "yaml-syntax";
}

/** Plain placed problems from zod issues: the general form, used for knowledge files. */
export function problemsFromIssues(source: YamlSource, issues: readonly z.core.$ZodIssue[]): Problem[] {
  return issues.flatMap((issue) => {
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

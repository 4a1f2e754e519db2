/**
 * Edits of a form -> the text of the visit file, edited in place: comments, key order, quotes and every untouched line stay.
 * Nothing is checked here; whatever was typed goes into the file and the reader says what is wrong with it.
 */
import {
  type Document,
  isAlias,
  isCollection,
  isMap,
  isNode,
  isScalar,
  isSeq,
  Pair,
  parseDocument,
  Scalar,
  stringify,
  visit,
} from "yaml";
import { type KeyPath, nothing, writePath } from "../base/yaml-source.js";
import type { Json } from "../visit/json-schema.js";
import { leastChange } from "./least-change.js";
import type { Edit, Given, Written } from "./messages.js";
import { keyOrder, onOneLine } from "./yaml-style.js";

/** An edit that cannot be made in this file; the message is for the page. */
export class CannotEdit extends Error {}

const MAX_DEPTH = 10;

function open(text: string): Document.Parsed {
  return parseDocument(text, {
    version: "1.2",
    schema: "failsafe",
    customTags: (tags) => [...tags, nothing],
    stringKeys: true,
    merge: false,
    uniqueKeys: false,
    logLevel: "error",
    keepSourceTokens: false,
  });
}

/** As the YAML writer prints it; whether dashes stand under their key or indented, it keeps to the file's habit. */
const print = (doc: Document, text: string): string =>
  doc.toString({ lineWidth: 0, indentSeq: !/^[a-z_]+:[^\S\n]*(?:#.*)?\r?\n- /mu.test(text) });

type WrittenMap = { readonly [key: string]: Written };

const MOST_KNOWN = 16;
/** The last few texts read: one change asks for the same text many times over. */
const known = new Map<string, WrittenMap | null>();

/** What stands in a visit file, every scalar as written; null for a text that is no YAML map. */
export function writtenIn(text: string): WrittenMap | null {
  const before = known.get(text);
  if (before !== undefined) return before;
  const found = readWritten(text);
  const oldest = known.size >= MOST_KNOWN ? known.keys().next().value : undefined;
  if (oldest !== undefined) known.delete(oldest);
  known.set(text, found);
  return found;
}

function readWritten(text: string): WrittenMap | null {
  const doc = open(text);
  if (doc.errors.length > 0) return null;
  if (doc.contents === null || (isScalar(doc.contents) && doc.contents.value === null)) return {};
  if (!isMap(doc.contents)) return null;
  try {
    return doc.toJS({ maxAliasCount: 50 }) as WrittenMap;
  } catch {
    return null;
  }
}

/** The text with the edits made, one after the other. `schema` is the JSON Schema of a visit file. Throws CannotEdit. */
export function editText(text: string, edits: readonly Edit[], schema: Json): string {
  return edits.reduce((now, edit) => editOnce(now, edit, schema), text);
}

function editOnce(text: string, edit: Edit, schema: Json): string {
  const bom = text.startsWith("\ufeff") ? "\ufeff" : "";
  const before = text.slice(bom.length);
  const doc = open(before);
  if (doc.errors.length > 0) throw new CannotEdit("The file cannot be read as YAML.");
  if (edit.path.length === 0 || edit.path.length > MAX_DEPTH) throw new CannotEdit("No such place.");
  const plain = print(doc, before);
  if (isScalar(doc.contents) && doc.contents.value === null) doc.contents = null;
  refuseRepeated(doc, edit.path);
  if (edit.do === "set") set(doc, edit.path, edit.value, schema);
  else remove(doc, edit.path);
  const after = print(doc, before);
  if (after === plain) return text;
  const kept = leastChange(before, plain, after);
  return bom + (kept !== undefined && sameValue(kept, after) ? kept : after);
}

function sameValue(one: string, other: string): boolean {
  const written = writtenIn(one);
  return written !== null && JSON.stringify(written) === JSON.stringify(writtenIn(other));
}

/** A place that another place repeats by alias would change there too, unseen. */
function refuseRepeated(doc: Document, path: KeyPath): void {
  const repeated = new Set<string>();
  visit(doc, {
    Alias: (_, alias) => {
      repeated.add(alias.source);
    },
  });
  if (repeated.size === 0) return;
  let here: unknown = doc.contents;
  for (const [depth, step] of [...path, undefined].entries()) {
    if (isNode(here) && !isAlias(here) && here.anchor !== undefined && repeated.has(here.anchor))
      throw new CannotEdit(
        `${writePath(path.slice(0, depth))} is repeated elsewhere by alias (*); edit the file by hand.`,
      );
    here = step === undefined || here === undefined ? undefined : childOf(here, step, path.slice(0, depth));
  }
}

function set(doc: Document, path: KeyPath, value: Given, schema: Json): void {
  if (doc.contents === null) doc.contents = doc.createNode({}) as never;
  let here: unknown = doc.contents;
  for (const [depth, step] of path.entries()) {
    const at = path.slice(0, depth);
    const last = depth === path.length - 1;
    const present = childOf(here, step, at);
    if (last && isScalar(present) && isPlain(value)) write(present, String(value));
    else if (last || present === undefined || (isScalar(present) && present.value === null)) {
      const inside = last ? value : emptyFor(path[depth + 1]);
      put(here, step, makeNode(doc, inside, path.slice(0, depth + 1), schema), keyOrder(schema, at));
    }
    here = childOf(here, step, at);
  }
}

/** Quotes that the old text needed go with it; quotes that somebody chose stay. */
function write(scalar: Scalar, text: string): void {
  const isQuoted = scalar.type === "QUOTE_DOUBLE" || scalar.type === "QUOTE_SINGLE";
  if (isQuoted && /^['"]/u.test(stringify(scalar.value, { lineWidth: 0 }))) delete scalar.type;
  scalar.value = text;
}

const isPlain = (value: Given): value is string | number | boolean => typeof value !== "object";
const emptyFor = (step: string | number | undefined): Given => (typeof step === "number" ? [] : {});

/** The node at one step; undefined when there is none. */
function childOf(holder: unknown, step: string | number, at: KeyPath): unknown {
  if (isAlias(holder))
    throw new CannotEdit(`${writePath(at)} repeats another place by alias (*); edit the file by hand.`);
  if (isSeq(holder)) {
    if (typeof step !== "number" || step < 0 || step > holder.items.length)
      throw new CannotEdit("No such entry.");
    return holder.items[step];
  }
  if (!isMap(holder) || typeof step !== "string")
    throw new CannotEdit(`${writePath(at)} is of another kind in this file.`);
  return pairOf(holder.items, step)?.value ?? undefined;
}

const pairOf = (items: readonly Pair[], key: string): Pair | undefined =>
  items.findLast((pair) => (isScalar(pair.key) ? String(pair.key.value) : String(pair.key)) === key);

/** Puts a node in; a new key goes before the first key that the format lists after it. */
function put(holder: unknown, step: string | number, node: unknown, order: readonly string[]): void {
  if (isSeq(holder)) holder.items[Number(step)] = node;
  else if (isMap(holder)) {
    const known = pairOf(holder.items, String(step));
    if (known) {
      known.value = node;
      return;
    }
    const rank = order.indexOf(String(step));
    const place =
      rank < 0
        ? -1
        : holder.items.findIndex(({ key }) => isScalar(key) && order.indexOf(String(key.value)) > rank);
    holder.add(new Pair(new Scalar(String(step)), node));
    if (place >= 0) {
      const pair = holder.items.pop();
      if (pair) holder.items.splice(place, 0, pair);
    }
  }
}

/** A node for what a form gives, maps in the order of the format, short rows on one line. */
function makeNode(doc: Document, value: Given, path: KeyPath, schema: Json): unknown {
  if (isPlain(value)) return doc.createNode(String(value));
  if (Array.isArray(value)) {
    const list = doc.createNode([], { flow: onOneLine(path) });
    list.items = value.map((entry: Given, i) => makeNode(doc, entry, [...path, i], schema)) as never;
    return list;
  }
  const map = doc.createNode({}, { flow: onOneLine(path) });
  const order = keyOrder(schema, path);
  for (const [key, inner] of Object.entries(value as { readonly [key: string]: Given | undefined })) {
    if (inner === undefined || inner === "") continue;
    put(map, key, makeNode(doc, inner, [...path, key], schema), order);
  }
  return map;
}

function remove(doc: Document, path: KeyPath): void {
  const holders: unknown[] = [doc.contents];
  for (const [depth, step] of path.slice(0, -1).entries()) {
    const next = childOf(holders[depth], step, path.slice(0, depth));
    if (next === undefined) return;
    holders.push(next);
  }
  for (let depth = path.length - 1; depth >= 0; depth--) {
    const holder = holders[depth];
    const step = path[depth];
    if (isSeq(holder) && typeof step === "number" && step < holder.items.length) holder.items.splice(step, 1);
    else if (isMap(holder))
      holder.items = holder.items.filter((pair) => pair !== pairOf(holder.items, String(step)));
    if (depth === 0 || !isCollection(holder) || holder.items.length > 0) return;
  }
}

/**
 * A line as it is stored: `{"previous": [hashes], "hash": of the body, "body": {...}}`. The hash of a line is over `previous` and
 * the hash of its body, so a body can be taken out (null) and the chain still holds; a grain of salt in the body keeps what is
 * left from being guessed.
 */
import { randomBytes } from "node:crypto";
import { sha256 } from "../base/sha256.js";
import { entrySchema, type RegisterEntry, type RegisterLine } from "./line.js";

export interface StoredLine {
  readonly previous: readonly string[];
  /** Over the body. */
  readonly content: string;
  /** Null once erased. */
  readonly body: string | null;
  /** Over `previous` and `content`. */
  readonly hash: string;
}

export const saltOf = (): string => randomBytes(12).toString("base64url");

export function storedLine(entry: RegisterEntry, previous: readonly string[], salt: string): StoredLine {
  const body = JSON.stringify({ ...entry, salt });
  const content = sha256(body);
  return { previous, content, body, hash: lineHash(previous, content) };
}

export function withoutBody(line: StoredLine): StoredLine {
  return { ...line, body: null };
}

/** The line as it stands in the file, without its end. */
export function writeLine({ previous, content, body }: StoredLine): string {
  return `{"previous":${JSON.stringify(previous)},"hash":"${content}","body":${body ?? "null"}}`;
}

const LINE =
  /^\{"previous":\[((?:"[0-9a-f]{64}"(?:,"[0-9a-f]{64}")*)?)\],"hash":"([0-9a-f]{64})","body":(.+)\}$/u;

/** A line that has been read and checked. */
export interface ReadLine {
  readonly line: StoredLine;
  /** True when its content is what its hash says. */
  readonly intact: boolean;
  /** Undefined for one that is erased, not intact, or of a kind that this version does not know. */
  readonly entry: RegisterEntry | undefined;
}

/** Lines never change, so a program that runs on checks each once. */
const known = new Map<string, ReadLine | undefined>();
const MOST_KNOWN = 50_000;

/** As `parseLine`, with what the line says; remembered by its text. */
export function readLine(text: string): ReadLine | undefined {
  if (known.has(text)) return known.get(text);
  if (known.size >= MOST_KNOWN) known.clear();
  // A copy: a piece of a text keeps all of it in memory, which is the whole register.
  const own = Buffer.from(text).toString();
  const parsed = parseLine(own);
  const read = parsed && { ...parsed, entry: parsed.intact ? entryOf(parsed.line) : undefined };
  known.set(own, read);
  return read;
}

/** The line in a text, or undefined where there is none, such as where a line was torn. */
export function parseLine(text: string): { line: StoredLine; intact: boolean } | undefined {
  const [, before, content, raw] = LINE.exec(text) ?? [];
  if (before === undefined || content === undefined || raw === undefined) return undefined;
  const previous = before === "" ? [] : before.slice(1, -1).split('","');
  const body = raw === "null" ? null : raw;
  const line = { previous, content, body, hash: lineHash(previous, content) };
  return { line, intact: body === null || sha256(body) === content };
}

/** The line for its reader, at its place; undefined where it cannot be told what it says. */
export function openLine(
  { line: { hash, previous, body }, intact, entry }: ReadLine,
  line: number,
): RegisterLine | undefined {
  if (body === null && intact) return { kind: "gone", line, hash, previous };
  return entry && { ...entry, line, hash, previous };
}

function entryOf({ body }: StoredLine): RegisterEntry | undefined {
  if (body === null) return undefined;
  const { salt: _salt, ...entry } = JSON.parse(body) as Record<string, unknown>;
  return entrySchema.safeParse(entry).data;
}

function lineHash(previous: readonly string[], content: string): string {
  return sha256(JSON.stringify([previous, content]));
}

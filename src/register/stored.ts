/**
 * A line as it is stored: `{"previous": [hashes], "hash": of the body, "body": {...}}`. The hash of a line is over `previous` and
 * the hash of its body, so a body can be taken out (null) and the chain still holds; a grain of salt in the body keeps what is
 * left from being guessed.
 */
import { createHash, randomBytes } from "node:crypto";
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

export const sha256 = (bytes: string | Uint8Array): string =>
  createHash("sha256").update(bytes).digest("hex");

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

/** The line in a text, or undefined where there is none, such as where a line was torn. */
export function parseLine(text: string): { line: StoredLine; intact: boolean } | undefined {
  const [, before, content, raw] = LINE.exec(text) ?? [];
  if (before === undefined || content === undefined || raw === undefined) return undefined;
  const previous = before === "" ? [] : before.slice(1, -1).split('","');
  const body = raw === "null" ? null : raw;
  const line = { previous, content, body, hash: lineHash(previous, content) };
  return { line, intact: body === null || sha256(body) === content };
}

/** The line for its reader; undefined for a kind that this version does not know. `stored` is intact. */
export function openLine(stored: StoredLine, line: number): RegisterLine | undefined {
  const { hash, previous, body } = stored;
  if (body === null) return { kind: "gone", line, hash, previous };
  const { salt: _salt, ...entry } = JSON.parse(body) as Record<string, unknown>;
  const read = entrySchema.safeParse(entry);
  return read.success ? Object.assign(read.data, { line, hash, previous }) : undefined;
}

function lineHash(previous: readonly string[], content: string): string {
  return sha256(JSON.stringify([previous, content]));
}

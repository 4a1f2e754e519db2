/**
 * A key of the visit file, once: how it is read, what it becomes in a Visit, how it is written back, and where it is
 * printed. Every table of keys is made of these; the schema, the Visit type, reading and writing follow from it.
 */
import { z } from "zod";
import type { DisorderId, FactId, FindingId } from "../base/ids.js";
import type { Leaf } from "./leaf.js";
import { text, textList } from "./leaves.js";

/**
 * needed: a file without it is refused. given: left out, it has a value all the same. optional: left out, the Visit has
 * no such key. merged: it adds to another key and has none of its own in the Visit.
 */
export type Mode = "needed" | "given" | "optional" | "merged";

/** Why a document leaves a key out; one that is not named prints it. */
export interface LeftOut {
  readonly letter?: string;
  readonly handout?: string;
}

/** Ids as a file writes them. */
export interface Terms {
  finding(id: FindingId): string;
  disorder(id: DisorderId): string;
  fact(id: FactId): string;
}

export interface Key<S extends z.ZodType = z.ZodType, V = unknown, M extends Mode = Mode> {
  readonly schema: S;
  readonly mode: M;
  /** One sentence on the key, as an editor shows it. */
  readonly says: string;
  /** What is missing where it is needed and left out. */
  readonly missing?: string;
  /** The keys of the map, or of each entry of the list. */
  readonly keys?: Keys;
  readonly entries?: boolean;
  /** Written on one line where it fits; `each` for the entries of a list. */
  readonly oneLine?: boolean | "each";
  /** The key that a merged one adds to. */
  readonly into?: string;
  readonly leftOut?: LeftOut;
  /** The value for a Visit; undefined where nothing is in it. */
  toVisit(value: unknown): V | undefined;
  /** The value of a Visit that leaves it out. */
  absent?(): V;
  /** As a file writes it; undefined where it is not written. */
  toFile(value: unknown, terms: Terms): unknown;
}

export type Keys = Readonly<Record<string, Key>>;

type Camel<Name extends string> = Name extends `${infer Head}_${infer Tail}`
  ? `${Head}${Capitalize<Camel<Tail>>}`
  : Name;

/** The value of a key in a Visit. */
export type ValueOf<K> = K extends Key<z.ZodType, infer V> ? V : never;

type NamesOf<K extends Keys, M extends Mode> = {
  [Name in keyof K & string]: K[Name]["mode"] extends M ? Name : never;
}[keyof K & string];

/** The part of a Visit that a table of keys describes: names in camel case, what is always there required. */
export type VisitOf<K extends Keys> = {
  readonly [Name in NamesOf<K, "needed" | "given"> as Camel<Name>]: ValueOf<K[Name]>;
} & {
  readonly [Name in NamesOf<K, "optional"> as Camel<Name>]?: ValueOf<K[Name]>;
};

type SchemasOf<K extends Keys> = { -readonly [Name in keyof K]: K[Name]["schema"] };

/** `hair_care` -> `hairCare` */
export const camelCase = (name: string): string =>
  name.replaceAll(/_([a-z])/gu, (_all, letter: string) => letter.toUpperCase());

const NAME = 120;
const LINE = 300;
const PROSE = 4000;

type More<K extends Key = Key> = Partial<Pick<K, "oneLine" | "leftOut">>;

/** A key whose value in a Visit is not the value read. */
export function shaped<S extends z.ZodType, V, M extends Mode>(
  schema: S,
  key: Omit<Key<S, V, M>, "schema">,
): Key<S, V, M> {
  return { schema: schema.describe(key.says), ...key };
}

/** One value, read by a leaf. */
export function value<T>(leaf: Leaf<T>, says: string, more: More = {}): Key<Leaf<T>, T, "optional"> {
  return {
    schema: leaf.describe(says),
    mode: "optional",
    says,
    ...more,
    toVisit: (read) => read as T,
    toFile: (written) => written,
  };
}

export const name = (says: string, more?: More) => value(text(NAME), says, more);
export const line = (says: string, more?: More) => value(text(LINE), says, more);
export const sentence = (says: string, more?: More) => value(text(1000, { lines: true }), says, more);
export const prose = (says: string, more?: More) => value(text(PROSE, { lines: true }), says, more);

/** Short texts in a list; left out, an empty one. */
export function texts(says: string, more: More = {}): Key<Leaf<string[]>, readonly string[], "given"> {
  return given({ ...value(textList(), says), oneLine: true, ...more }, []);
}

/** A map of keys; one that holds nothing is left out. */
export function map<K extends Keys>(keys: K, says: string, more: More = {}) {
  const schema = z.strictObject(schemasOf(keys)).nullish().describe(says);
  return {
    schema,
    mode: "optional" as const,
    says,
    keys,
    ...more,
    toVisit: (read: unknown) => {
      const made = readMap(keys, read);
      return Object.keys(made).length > 0 ? made : undefined;
    },
    toFile: (written: unknown, terms: Terms) => writeMap(keys, written, terms),
  } satisfies Key<typeof schema, VisitOf<K>, "optional">;
}

/** A map that every Visit has, filled or not. */
export function always<K extends Keys>(keys: K, says: string, more: More = {}) {
  const made = map(keys, says, more);
  return {
    ...made,
    mode: "given" as const,
    toVisit: (read: unknown) => readMap(keys, read),
    absent: () => readMap(keys, {}),
  } satisfies Key<(typeof made)["schema"], VisitOf<K>, "given">;
}

/** Entries of one kind; those left empty are passed over. */
export function list<K extends Keys>(keys: K, says: string, more: More & { most?: number } = {}) {
  const { most = 100, ...rest } = more;
  const schema = z
    .array(z.strictObject(schemasOf(keys)).nullable())
    .max(most)
    .nullish()
    .describe(says);
  return {
    schema,
    mode: "given" as const,
    says,
    keys,
    entries: true,
    ...rest,
    toVisit: (read: unknown): readonly VisitOf<K>[] =>
      (read as readonly unknown[]).flatMap((entry) => (entry === null ? [] : [readMap(keys, entry)])),
    absent: (): readonly VisitOf<K>[] => [],
    toFile: (written: unknown, terms: Terms) =>
      (written as readonly unknown[]).map((entry) => writeMap(keys, entry, terms) ?? {}),
  } satisfies Key<typeof schema, readonly VisitOf<K>[], "given">;
}

/** The keys with a reason why documents leave them out, where they have none of their own. */
export function leaving<K extends Keys>(leftOut: LeftOut, keys: K): K {
  return Object.fromEntries(
    Object.entries(keys).map(([name, key]) => [name, { leftOut, ...key }]),
  ) as unknown as K;
}

/** The key with a reason why documents leave it out. */
export function left<K extends Key>(leftOut: LeftOut, key: K): K {
  return { ...key, leftOut };
}

/** The key with a value where the file leaves it out. */
export function given<S extends z.ZodType, V, W extends V>(
  key: Key<S, V>,
  absent: V & W,
): Key<S, Readonly<V>, "given"> {
  return { ...key, mode: "given", absent: () => absent };
}

/** The key that no file may leave out; `missing` names it in the message. */
export function needed<S extends z.ZodType, V>(key: Key<S, V>, missing: string): Key<S, V, "needed"> {
  return { ...key, mode: "needed", missing };
}

export function schemasOf<K extends Keys>(keys: K): SchemasOf<K> {
  return Object.fromEntries(Object.entries(keys).map(([name, { schema }]) => [name, schema])) as SchemasOf<K>;
}

/** The part of a Visit in a map of the file. */
export function readMap<K extends Keys>(keys: K, file: unknown): VisitOf<K> {
  const read = (file ?? {}) as Readonly<Record<string, unknown>>;
  const made: Record<string, unknown> = {};
  for (const [name, key] of Object.entries(keys)) {
    const raw = read[name];
    const value = raw === undefined || raw === null ? undefined : key.toVisit(raw);
    const at = camelCase(key.into ?? name);
    if (key.into !== undefined)
      made[at] = [...((made[at] ?? []) as unknown[]), ...((value ?? []) as unknown[])];
    else if (value !== undefined) made[at] = value;
    else if (key.absent) made[at] = key.absent();
    else if (key.mode === "needed") throw new Error(`${name} of the visit went unchecked`);
  }
  return made as VisitOf<K>;
}

/** The map of a file for a part of a Visit; undefined where nothing would stand in it. */
export function writeMap(
  keys: Keys,
  visit: unknown,
  terms: Terms,
): Readonly<Record<string, unknown>> | undefined {
  const part = visit as Readonly<Record<string, unknown>>;
  const lines = Object.entries(keys).flatMap(([name, key]) => {
    const value = part[camelCase(name)];
    if (key.mode === "merged" || value === undefined) return [];
    const written = key.toFile(value, terms);
    return isNothing(written, key.mode) ? [] : [[name, written] as const];
  });
  return lines.length > 0 ? Object.fromEntries(lines) : undefined;
}

/** What a file need not say: nothing, an empty text or list, and a no that is taken for granted. */
function isNothing(written: unknown, mode: Mode): boolean {
  if (written === undefined || written === "" || (Array.isArray(written) && written.length === 0))
    return true;
  return mode === "given" && written === false;
}

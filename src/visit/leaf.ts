/** How a single value is read: from the text as written to the value meant, or to a trouble with its place. */
import { z } from "zod";
import { type Expectation, foundInWords, type ValueIssue } from "./expectation.js";
import { plainWords } from "./vocabulary.js";

/** A piece of JSON Schema. */
export type Json = { [key: string]: unknown };

/** A value of a file: undefined when left out or left empty. */
export type Leaf<T> = z.ZodOptional<z.ZodType<T | undefined, unknown>>;

export type Read<T> = (written: string) => T | Fault;
/** A fault found by a leaf; the place and the want are added around it. */
export class Fault {
  constructor(
    readonly problem: ValueIssue["problem"],
    readonly message: string,
    readonly more: { readonly expected?: string; readonly suggestion?: string } = {},
  ) {}
}

/** Hands a trouble to zod with all that the problem list needs. */
export function addTrouble(
  ctx: z.core.$RefinementCtx,
  trouble: ValueIssue,
  path: (string | number)[] = [],
): void {
  ctx.addIssue({ code: "custom", message: trouble.message, path, params: { trouble } });
}

/** Passes on what a schema inside a leaf found, at `path` of the leaf; `keys` are those the inner map takes. */
export function relayIssues(
  ctx: z.core.$RefinementCtx,
  issues: readonly z.core.$ZodIssue[],
  path: (string | number)[],
  keys: readonly string[],
): void {
  for (const issue of issues) {
    const here = [...path, ...issue.path.map((p) => (typeof p === "number" ? p : String(p)))];
    if (issue.code === "unrecognized_keys") {
      const want: Expectation = { kind: "word", words: plainWords("a key of this place", keys) };
      for (const key of issue.keys) {
        const message = `${foundInWords(key)} is not a key of this place`;
        addTrouble(ctx, { problem: "unknown-key", message, want, onKey: true }, [...here, key]);
      }
    } else if (issue.code === "custom") {
      ctx.addIssue({ code: "custom", message: issue.message, path: here, params: issue.params });
    } else {
      addTrouble(
        ctx,
        { problem: "wrong-shape", message: "keys and values belong here", want: { kind: "map" } },
        here,
      );
    }
  }
}

/** What JSON Schema says of a raw value; made only when a schema is printed, since reading has no use for it. */
const leafJson = z.registry<{ json: () => Json }>();

/** Any raw value, which JSON Schema describes by `json`. */
export function rawValue(json: () => Json): z.ZodUnknown {
  return z.unknown().register(leafJson, { json });
}

/** JSON Schema (draft 7) of a zod schema built of leaves: what may be written, not what is read from it. */
export function toJson(schema: z.ZodType): Json {
  return z.toJSONSchema(schema, {
    io: "input",
    target: "draft-7",
    override: ({ zodSchema, jsonSchema }) => {
      const leaf = zodSchema instanceof z.ZodUnknown ? leafJson.get(zodSchema) : undefined;
      if (leaf) Object.assign(jsonSchema, leaf.json());
    },
  });
}

/** A value read by `read`; `json` is its JSON Schema, null aside. */
export function leaf<T>(want: Expectation, json: () => Json, read: Read<T>): Leaf<T> {
  return rawValue(() => orNull(json()))
    .transform((raw, ctx): T | undefined => readOne(want, read, raw, ctx, []))
    .optional();
}

/** Reads one raw value with a leaf's rules, reporting at `path`. */
export function readOne<T>(
  want: Expectation,
  read: Read<T>,
  raw: unknown,
  ctx: z.core.$RefinementCtx,
  path: (string | number)[],
): T | undefined {
  if (raw === null || raw === undefined || raw === "") return undefined;
  if (typeof raw === "object") {
    const message = `${foundInWords(raw)} where one value belongs`;
    addTrouble(ctx, { problem: "wrong-shape", message, want }, path);
    return undefined;
  }
  const value = read(String(raw));
  if (!(value instanceof Fault)) return value;
  addTrouble(ctx, { problem: value.problem, message: value.message, want, ...value.more }, path);
  return undefined;
}

/** A scalar of one of several types, `rule` holding for what is a text; one type to a branch, as strict validators ask. */
export const anyType = (types: readonly string[], rule: Json): Json => ({
  anyOf: types.map((type) => (type === "string" ? { type, ...rule } : { type })),
});

/** The same, or null: a key left empty is a key left out. */
export const orNull = (json: Json): Json =>
  typeof json.type === "string" || Array.isArray(json.type)
    ? { ...json, type: [json.type, "null"].flat() }
    : { anyOf: [json, { type: "null" }] };

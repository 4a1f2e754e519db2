/** Requests of the page, read strictly: what a form may ask for and nothing else. */
import { z } from "zod";
import { HttpError } from "./http-error.js";
import type { Edit, NewVisit, Pane, Written } from "./messages.js";
import { PANES } from "./messages.js";

const step = z.union([z.string().min(1).max(300), z.int().min(0).max(2000)]);
const path = z.array(step).min(1).max(10);
const text = z.string().max(100_000);
const given: z.ZodType = z.lazy(() =>
  z.union([text, z.number(), z.boolean(), z.array(given).max(2000), z.record(z.string().max(300), given)]),
);
const edit = z.discriminatedUnion("do", [
  z.strictObject({ do: z.literal("set"), path, value: given }),
  z.strictObject({ do: z.literal("remove"), path }),
]);

const file = z.string().min(1).max(500);
const base = z.string().max(100);
const pane = z.enum(PANES);

const ASKED = {
  open: z.strictObject({ file, pane }),
  peek: z.strictObject({ file }),
  edit: z.strictObject({
    file,
    pane,
    base,
    edits: z.array(edit).min(1).max(200),
  }),
  settle: z.strictObject({ file, pane }),
  step: z.strictObject({ file, pane, base }),
  signing: z.strictObject({ file, base }),
  sign: z.strictObject({ file, pane, base, by: z.string().min(1).max(200), digest: z.string().max(100) }),
  reopen: z.strictObject({ file, pane, base, reason: z.string().trim().min(1).max(300) }),
  export: z.strictObject({ file, base, as: z.enum(["docx", "fhir"]) }),
  locked: z.strictObject({ file, link: z.string().max(600), password: z.string().max(500) }),
  queue: z.strictObject({ files: z.array(file).min(1).max(500) }),
  restore: z.strictObject({ file, pane, written: z.record(z.string().max(300), z.unknown()).nullable() }),
  new: z.strictObject({
    id: text,
    date: text,
    seenBy: text,
    reason: z.string().max(300),
    patientId: text,
    title: text,
    given: text,
    family: text,
    born: text,
    sex: text,
    follows: file.optional(),
  }),
};

export interface Asked {
  readonly open: { readonly file: string; readonly pane: Pane };
  readonly peek: { readonly file: string };
  readonly edit: {
    readonly file: string;
    readonly pane: Pane;
    readonly base: string;
    readonly edits: readonly Edit[];
  };
  readonly settle: { readonly file: string; readonly pane: Pane };
  readonly step: { readonly file: string; readonly pane: Pane; readonly base: string };
  readonly signing: { readonly file: string; readonly base: string };
  readonly sign: {
    readonly file: string;
    readonly pane: Pane;
    readonly base: string;
    readonly by: string;
    readonly digest: string;
  };
  readonly reopen: {
    readonly file: string;
    readonly pane: Pane;
    readonly base: string;
    readonly reason: string;
  };
  /** What the page still knows of a file that is gone. */
  readonly restore: {
    readonly file: string;
    readonly pane: Pane;
    readonly written: { readonly [key: string]: Written } | null;
  };
  readonly export: { readonly file: string; readonly base: string; readonly as: "docx" | "fhir" };
  readonly locked: { readonly file: string; readonly link: string; readonly password: string };
  readonly queue: { readonly files: readonly string[] };
  readonly new: NewVisit;
}

/** The request's body as the kind of request it should be; throws Refused. */
export function asked<K extends keyof Asked>(kind: K, body: unknown): Asked[K] {
  const read = ASKED[kind].safeParse(body);
  if (!read.success) throw new HttpError(400, "The request is not one that the page makes.");
  return read.data as Asked[K];
}

/** Requests of the page, read strictly: what a form may ask for and nothing else. */
import { z } from "zod";
import { WAYS } from "../register/ways.js";
import { MOST_LOGO_BODY } from "./clinic-setup.js";
import { HttpError } from "./http-error.js";
import type { ListAsked, NewVisit, TableAsked } from "./list-messages.js";
import type { Edit, Shown, Written } from "./messages.js";
import { PANES } from "./messages.js";
import { MOST_TABLE_BODY } from "./table-in.js";

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
const reader = z.int().min(0).max(50);
/** What stands beside the form. */
const shown = { pane, reader: reader.optional() };
const edits = z.array(edit).min(1).max(200);

const reason = z.string().trim().min(1).max(300);

const ASKED = {
  list: z.strictObject({ find: z.string().max(200), most: z.int().min(1).max(10_000), now: z.boolean() }),
  waiting: z.strictObject({ most: z.int().min(0).max(10_000) }),
  open: z.strictObject({ file, ...shown }),
  peek: z.strictObject({ file }),
  edit: z.strictObject({
    file,
    ...shown,
    base,
    edits,
  }),
  settle: z.strictObject({ file, ...shown }),
  step: z.strictObject({ file, ...shown, base }),
  signing: z.strictObject({ file, base }),
  sign: z.strictObject({
    file,
    ...shown,
    base,
    by: z.string().min(1).max(200),
    digest: z.string().max(100),
    reason: reason.optional(),
  }),
  reopen: z.strictObject({ file, ...shown, base, reason }),
  export: z.strictObject({ file, base, as: z.enum(["docx", "fhir"]), reader }),
  draft: z.strictObject({ file, base, reader, password: z.string().max(500), again: z.boolean() }),
  locked: z.strictObject({ file, link: z.string().max(600), password: z.string().max(500) }),
  queue: z.strictObject({ files: z.array(file).min(1).max(500) }),
  restore: z.strictObject({ file, ...shown, written: z.record(z.string().max(300), z.unknown()).nullable() }),
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
  markLeft: z.strictObject({
    file,
    ids: z.array(z.string().max(100)).min(1).max(100),
    by: z.string().min(1).max(200),
    how: z.enum(WAYS),
    on: z.iso.date(),
  }),
  rename: z.strictObject({ file, base, to: z.string().trim().min(1).max(120) }),
  takeBack: z.strictObject({ lies: z.string().min(1).max(520) }),
  table: z.strictObject({
    name: z.string().max(300),
    bytes: z.base64().max(MOST_TABLE_BODY),
    mapping: z.string().max(200_000).optional(),
    edits: edits.optional(),
  }),
  clinicTry: z.strictObject({ edits: edits.or(z.tuple([])) }),
  clinicSave: z.strictObject({ base, edits }),
  clinicSheet: z.strictObject({ edits: edits.or(z.tuple([])), show: z.enum(["letter", "window"]) }),
  clinicLogo: z.strictObject({ name: z.string().max(300), bytes: z.base64().max(MOST_LOGO_BODY) }),
};

interface OfVisit {
  readonly file: string;
}
/** A visit and what the page shows beside its form. */
interface OnShow extends OfVisit, Shown {}
/** Names the text that the request was made on. */
interface OnText {
  readonly base: string;
}

export interface Asked {
  readonly list: ListAsked;
  readonly waiting: { readonly most: number };
  readonly open: OnShow;
  readonly peek: OfVisit;
  readonly edit: OnShow & OnText & { readonly edits: readonly Edit[] };
  readonly settle: OnShow;
  readonly step: OnShow & OnText;
  readonly signing: OfVisit & OnText;
  readonly sign: OnShow & OnText & { readonly by: string; readonly digest: string; readonly reason?: string };
  readonly reopen: OnShow & OnText & { readonly reason: string };
  /** What the page still knows of a file that is gone. */
  readonly restore: OnShow & { readonly written: { readonly [key: string]: Written } | null };
  readonly export: OfVisit & OnText & { readonly as: "docx" | "fhir"; readonly reader: number };
  readonly draft: OfVisit &
    OnText & { readonly reader: number; readonly password: string; readonly again: boolean };
  readonly locked: OfVisit & { readonly link: string; readonly password: string };
  readonly queue: { readonly files: readonly string[] };
  readonly new: NewVisit;
  readonly markLeft: OfVisit & {
    readonly ids: readonly string[];
    readonly by: string;
    readonly how: string;
    readonly on: string;
  };
  readonly rename: OfVisit & OnText & { readonly to: string };
  readonly takeBack: { readonly lies: string };
  readonly table: TableAsked;
  readonly clinicTry: { readonly edits: readonly Edit[] };
  readonly clinicSave: OnText & { readonly edits: readonly Edit[] };
  readonly clinicSheet: { readonly edits: readonly Edit[]; readonly show: "letter" | "window" };
  /** Base64. */
  readonly clinicLogo: { readonly name: string; readonly bytes: string };
}

/** The request's body as the kind of request it should be; throws Refused. */
export function asked<K extends keyof Asked>(kind: K, body: unknown): Asked[K] {
  const read = ASKED[kind].safeParse(body);
  if (!read.success) throw new HttpError(400, "The request is not one that the page makes.");
  return read.data as Asked[K];
}

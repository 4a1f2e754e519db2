/**
 * What the register holds: one line for each thing that happened to a visit's documents. Content is hashed by sha-256, in hex.
 * `at` is the moment the line was written, `by` the person who says so (a key of the clinic file, or a name); empty where the
 * program alone speaks.
 */
import { z } from "zod";

const hash = z.string().regex(/^[0-9a-f]{64}$/u);
const moment = z.string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d(?::\d\d(?:\.\d+)?)?(?:Z|[+-]\d\d:\d\d)$/u);
const day = z.string().regex(/^\d{4}-\d\d-\d\d$/u);
const edition = z.int().min(1);
const said = { at: moment, by: z.string() };
const ofVisit = {
  /** Number of the visit. */
  visit: z.string(),
  /** Number of the patient. */
  patient: z.string(),
  edition,
};
const addressee = z.strictObject({ name: z.string(), role: z.string(), copy: z.boolean() });
const ofDocument = {
  ...ofVisit,
  /** Kind of the document: `referral-letter`, `handout`, or one of the clinic's own. */
  document: z.string(),
  /** Null for a document without an address, such as the handout. */
  addressee: addressee.nullable(),
  /** Over the bytes of the document; they are kept under this name. */
  sha256: hash,
};

/** The register begins. */
const begun = z.strictObject({ kind: z.literal("begun"), ...said });

/** A visit was signed. Edition 2 and later replace the one before, for `reason`. */
const signed = z.strictObject({
  kind: z.literal("signed"),
  ...said,
  ...ofVisit,
  /** Day of the visit. */
  date: day,
  /** Moment of signing as the visit file gives it; empty where it holds none. */
  signed_at: z.string(),
  seal: z.string(),
  /** Over the text of the visit file as signed; it is kept under this name. */
  text: hash,
  reason: z.string(),
});

/** A document of a signed visit was made, and may leave the clinic. */
const made = z.strictObject({
  kind: z.literal("made"),
  ...said,
  ...ofDocument,
  /** Seal of the content that it was made of. */
  seal: z.string(),
  /** Day that the document gives as its own. */
  dated: day,
  /** Name of its file when it was made. */
  name: z.string(),
  pages: z.int().min(0),
  /** The command that made it: `letter`, `batch` or `desk`. */
  how: z.string(),
});

/** Documents were gathered into one file for the printer. */
const printed = z.strictObject({
  kind: z.literal("printed"),
  ...said,
  /** Name of the file. */
  name: z.string(),
  /** Over the file; it is not kept, since its documents are. */
  sha256: hash,
  pages: z.int().min(0),
  /** Hashes of the lines that tell of their making. */
  documents: z.array(hash),
});

/** A person says that a document has left the clinic. `of` is the hash of the line that tells of its making. */
const sent = z.strictObject({
  kind: z.literal("sent"),
  ...said,
  ...ofDocument,
  of: hash,
  how: z.string(),
  /** Day on which it left. */
  on: day,
});

/** A document that was made is not to be sent, or, once sent, no longer holds. */
const withdrawn = z.strictObject({
  kind: z.literal("withdrawn"),
  ...said,
  ...ofDocument,
  of: hash,
  reason: z.string(),
});

/** Content of a patient was taken out of the lines named; their hashes stay, so the chain still holds. */
const erased = z.strictObject({
  kind: z.literal("erased"),
  ...said,
  /** Hashes of the lines. */
  lines: z.array(hash),
  reason: z.string(),
});

/** Lines of another copy were taken in. They stand right before this line, in this order. */
const merged = z.strictObject({ kind: z.literal("merged"), ...said, joined: z.array(hash) });

export const entrySchema = z.discriminatedUnion("kind", [
  begun,
  signed,
  made,
  printed,
  sent,
  withdrawn,
  erased,
  merged,
]);

export type RegisterEntry = z.output<typeof entrySchema>;
/** Entries that the program writes on behalf of a caller; the rest are the register's own. */
export type CallerEntry = Extract<
  RegisterEntry,
  { kind: "signed" | "made" | "printed" | "sent" | "withdrawn" }
>;
export type Addressee = z.output<typeof addressee>;

/** Where a line stands. */
export interface Placed {
  /** From 1. */
  readonly line: number;
  /** Names the line; the next line holds it. */
  readonly hash: string;
  /** Hashes of the lines before: none for the first, two for a merged line, else one. */
  readonly previous: readonly string[];
}

/** A line whose content was erased with its patient's; only its hash is left. */
export interface GoneLine extends Placed {
  readonly kind: "gone";
}

export type RegisterLine = Readonly<RegisterEntry & Placed> | GoneLine;
export type LineOf<K extends RegisterLine["kind"]> = Extract<RegisterLine, { kind: K }>;
export type SignedLine = LineOf<"signed">;
export type MadeLine = LineOf<"made">;
export type SentLine = LineOf<"sent">;
export type WithdrawnLine = LineOf<"withdrawn">;

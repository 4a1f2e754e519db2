/** The visit file as written: every key may be left out here; the tables of keys say which must not. */
import { z } from "zod";
import { schemasOf } from "./key.js";
import { topKeys } from "./keys.js";
import type { VisitWords } from "./visit-words.js";

/** The schema of a visit file with the words of a knowledge folder. */
export const visitFileSchema = (words: VisitWords) => z.strictObject(schemasOf(topKeys(words)));

export type VisitFileSchema = ReturnType<typeof visitFileSchema>;
/** A visit file with its values read; anything may still be missing. */
export type VisitFile = z.output<VisitFileSchema>;
export type SiteEntry = NonNullable<NonNullable<VisitFile["sites"]>[number]>;
export type FieldEntry = NonNullable<NonNullable<SiteEntry["fields"]>[number]>;

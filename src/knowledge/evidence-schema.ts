/** Parts that every knowledge file shares: ids, sources, and one study's figure for one finding or fact in one disorder. */
import { z } from "zod";
import type { CautionId, DisorderId, FactId, FindingId, HazardId, LineId } from "../base/ids.js";

/** How a value was obtained: in full text or table, in an abstract or summary, or not confirmed. */
export const HOW = ["read", "abstract", "memory"] as const;
/** Source ids that stand for no publication. */
export const UNSOURCED = ["common practice", "from memory"] as const;

export const text = z.string().trim().min(1);
export const id = z
  .string()
  .regex(/^[a-z0-9]+(-[a-z0-9]+)*$/u, "an id in small letters, digits and single hyphens");
export const findingId: z.ZodType<FindingId, string> = id;
export const disorderId: z.ZodType<DisorderId, string> = id;
export const factId: z.ZodType<FactId, string> = id;
export const cautionId: z.ZodType<CautionId, string> = id;
export const hazardId: z.ZodType<HazardId, string> = id;
export const lineId: z.ZodType<LineId, string> = id;
/** A source id of sources.yaml, `common practice`, or `from memory`; several are joined by "; ". */
export const source = text;
export const percent = z.number().min(0).max(100);

/** One study's figure for one finding in one disorder; exactly one of counts, percent, range or frequency word. */
export const evidenceRowSchema = z.strictObject({
  positive: z.int().min(0).optional(),
  of: z.int().min(1).optional(),
  percent: percent.optional(),
  /** Lowest and highest percentage over the studies of a review. */
  range: z.tuple([percent, percent]).optional(),
  frequency: z
    .enum(["defining", "characteristic", "common", "occasional", "absent-or-rare", "not-reported"])
    .optional(),
  source,
  how: z.enum(HOW),
  /** Part of the disorder the row covers; such a row is not added to whole-group rows. */
  subgroup: text.optional(),
  /** Where other than the scalp, such as `eyebrow`. */
  site: text.optional(),
  /** Present when the percentage is not a share of patients, such as a mean share of hairs; never pooled. */
  unit: text.optional(),
  /** True when the count was worked out from the printed percentage. */
  derived: z.boolean().optional(),
  /** True for a zero that only follows from a statement, not from a count. */
  implied: z.boolean().optional(),
  /** Percent, against the source's own comparison group. */
  specificity: percent.optional(),
  /** Year and month in which the row was last compared with its source, or with the extract made from it. */
  checked: z
    .string()
    .regex(/^\d{4}-(?:0[1-9]|1[0-2])$/u, "a year and a month, such as 2026-11")
    .optional(),
  note: text.optional(),
});

export type EvidenceRow = z.infer<typeof evidenceRowSchema>;
export type WithId<T, I extends string = string> = Readonly<T> & { readonly id: I };

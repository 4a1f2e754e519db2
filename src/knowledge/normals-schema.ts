/** The shape of knowledge/normals: published reference values, each for a measure, a place and a kind of person. */
import { z } from "zod";
import { HOW } from "./schema.js";

const text = z.string().trim().min(1);

export const normalSchema = z.strictObject({
  /** Measure id, such as `shaft-diameter`. */
  measure: text,
  /** Regions it was measured in; left out when the source does not separate them. */
  regions: z.array(text).min(1).optional(),
  sex: z.enum(["female", "male"]).optional(),
  /** Years, both included; left out when the source gives none or all adults. */
  age: z.tuple([z.number(), z.number()]).optional(),
  /** Words of which the patient's own description of ancestry must hold one. */
  ancestry: z.array(text).min(1).optional(),
  /** The value must be over or under these, or may equal these. */
  above: z.number().optional(),
  below: z.number().optional(),
  at_least: z.number().optional(),
  at_most: z.number().optional(),
  /** Mean and spread, from which a range of two standard deviations is worked when the source gives no limits. */
  mean: z.tuple([z.number(), z.number()]).optional(),
  sd: z.number().optional(),
  group: text,
  note: text.optional(),
  source: text,
  how: z.enum(HOW),
});

export const normalsFileSchema = z.array(normalSchema).min(1);
export type Normal = z.infer<typeof normalSchema>;

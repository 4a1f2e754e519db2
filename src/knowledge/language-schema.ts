/** The shape of knowledge/languages/<language>: what the documents print, in another language. Ids, numbers and urgencies stay ours. */
import { z } from "zod";
import { cautionId, disorderId, factId, findingId } from "./evidence-schema.js";

const text = z.string().trim().min(1);
const texts = z.array(text).min(1);

export const findingTextsSchema = z.record(
  findingId,
  z.strictObject({ term: text, name: text, means: text }),
);

export const disorderTextsSchema = z.record(
  disorderId,
  z.strictObject({
    term: text,
    about: text,
    watch: text.optional(),
    patient: z.strictObject({
      name: text,
      say: text.optional(),
      told: z.strictObject({ definite: text, probable: text, possible: text }).optional(),
      is: texts,
      means: texts,
      next: texts,
      ask: texts,
      /** Signs in the order of the English file, which says how fast each needs help. */
      help: z.array(text).default([]),
    }),
  }),
);

export const cautionTextsSchema = z.record(
  cautionId,
  z.strictObject({
    term: text,
    /** Of its must-not-miss line: why it was raised, and who must act. */
    why: text.optional(),
    who: text.optional(),
    doctor: text.optional(),
    patient: text.optional(),
    clinician: text.optional(),
    /** In the order of the English file, which says when each is true. */
    doctor_also: texts.optional(),
    doctor_after: texts.optional(),
    patient_also: texts.optional(),
  }),
);

/** Fact -> the trade's words, as they stand in a list after a colon; a class of medicines is never printed. */
export const factTextsSchema = z.record(factId, text);
/** Red flag that a visit may call for -> what is asked, and why. */
export const questionTextsSchema = z.record(factId, z.strictObject({ question: text, why: text }));
/** Region -> plain words for the handout. */
export const regionTextsSchema = z.record(z.string(), text);
/** Medical word of that language -> plain explanation. */
export const glossaryTextsSchema = z.record(text, text);

/** One file for each part; a part left out stays in English. */
export const LANGUAGE_FILES = {
  findings: findingTextsSchema,
  disorders: disorderTextsSchema,
  cautions: cautionTextsSchema,
  facts: factTextsSchema,
  questions: questionTextsSchema,
  regions: regionTextsSchema,
  glossary: glossaryTextsSchema,
} as const;

export interface LanguageTexts {
  readonly findings: z.infer<typeof findingTextsSchema>;
  readonly disorders: z.infer<typeof disorderTextsSchema>;
  readonly cautions: z.infer<typeof cautionTextsSchema>;
  readonly facts: z.infer<typeof factTextsSchema>;
  readonly questions: z.infer<typeof questionTextsSchema>;
  readonly regions: z.infer<typeof regionTextsSchema>;
  readonly glossary: z.infer<typeof glossaryTextsSchema>;
}

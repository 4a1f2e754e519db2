/** The kinds of value a template variable can be, each with what it means. */
import { z } from "zod";

export const text = (says: string) => z.string().describe(says);
export const date = (says: string) => z.string().describe(`${says}; an ISO date, print it with \`date\``);
export const flag = (says: string) => z.boolean().describe(says);
export const number = (says: string) => z.number().describe(says);
export const texts = (says: string) => z.array(z.string()).describe(says);
export const group = <T extends z.ZodRawShape>(says: string, shape: T) =>
  z.strictObject(shape).describe(says);
export const list = <T extends z.ZodRawShape>(says: string, shape: T) =>
  z.array(z.strictObject(shape)).describe(says);
export const maybe = <T extends z.ZodRawShape>(says: string, shape: T) =>
  z.strictObject(shape).nullable().describe(says);

/** Finds one's way through a zod schema by the keys of a file. */
import { z } from "zod";
import type { KeyPath } from "../base/yaml-source.js";

/** Keys the map at `path` takes; empty where the schema has no map. */
export function keysAt(schema: z.ZodType, path: KeyPath): string[] {
  const here = bare(schemaAt(schema, path));
  return here instanceof z.ZodObject ? Object.keys(here.shape) : [];
}

/** The schema of the value at `path`; list entries by any number. */
export function schemaAt(schema: z.ZodType, path: KeyPath): z.ZodType | undefined {
  let here: unknown = schema;
  for (const step of path) {
    const holder = bare(here);
    if (holder instanceof z.ZodObject) here = holder.shape[String(step)];
    else if (holder instanceof z.ZodArray) here = holder.element;
    else return undefined;
  }
  return here instanceof z.ZodType ? here : undefined;
}

/** Every place of a schema where each key is at home, as paths such as `history.symptoms`; the top is "". */
export function keyHomes(schema: z.ZodType): Map<string, string[]> {
  const homes = new Map<string, string[]>();
  const walk = (node: unknown, path: string) => {
    const here = bare(node);
    if (here instanceof z.ZodArray) walk(here.element, path);
    else if (here instanceof z.ZodObject) {
      for (const [key, inner] of Object.entries(here.shape)) {
        homes.set(key, [...(homes.get(key) ?? []), path]);
        walk(inner, path === "" ? key : `${path}.${key}`);
      }
    }
  };
  walk(schema, "");
  return homes;
}

/** The schema inside optional and nullable wrappers. */
function bare(schema: unknown): unknown {
  let here = schema;
  while (here instanceof z.ZodOptional || here instanceof z.ZodNullable) here = here.unwrap();
  return here;
}

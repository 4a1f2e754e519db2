/** Finds one's way through a zod schema by the keys of a file. */
import { z } from "zod";
import type { KeyPath } from "../base/yaml-source.js";

/** Keys the map at `path` takes; empty where the schema has no map. */
export function keysAt(schema: z.ZodType, path: KeyPath): string[] {
  let here: unknown = bare(schema);
  for (const step of path) {
    if (here instanceof z.ZodObject) here = bare(here.shape[String(step)]);
    else if (here instanceof z.ZodArray) here = bare(here.element);
    else return [];
  }
  return here instanceof z.ZodObject ? Object.keys(here.shape) : [];
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

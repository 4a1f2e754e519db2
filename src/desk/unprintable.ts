/** Characters of a visit that no typeface at hand can print, told at the place where they stand while they are typed. */
import type { Problem } from "../base/problem.js";
import { type KeyPath, writePath } from "../base/yaml-source.js";
import { faceFor } from "../page/type/fonts.js";
import { writtenIn } from "./edit-yaml.js";
import type { Written } from "./messages.js";

export function unprintable(text: string): Problem[] {
  const found: Problem[] = [];
  const walk = (value: Written, path: KeyPath) => {
    if (typeof value === "string") {
      if (faceFor(value, "normal") === undefined) found.push(...oddIn(value, path));
    } else if (value !== null)
      for (const [key, inner] of Object.entries(value))
        walk(inner as Written, [...path, Array.isArray(value) ? Number(key) : key]);
  };
  walk(writtenIn(text), []);
  return found;
}

function oddIn(value: string, path: KeyPath): Problem[] {
  const odd = new Set([...value].filter((character) => faceFor(character, "normal") === undefined));
  return [...odd].map((character) => ({
    severity: "error",
    id: "no-glyph",
    message: `${character} (U+${(character.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, "0")}) cannot be printed: no typeface at hand has it`,
    path: writePath(path),
    found: character,
    expected: "the same in words",
  }));
}

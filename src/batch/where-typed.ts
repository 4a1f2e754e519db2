/** What a document is refused for, told at the line of the visit or the clinic file in which somebody typed it. */
import type { Problem } from "../base/problem.js";
import { openYaml, type YamlSource } from "../base/yaml-source.js";
import { isPrinted } from "../letter/what-prints.js";
import { readTypefaces } from "../page/typefaces.js";
import { unprintableIn } from "../page/unprintable.js";
import type { Clinic } from "../visit/clinic.js";
import { readText } from "../visit/read.js";

/** Keys of the clinic file that a problem goes back to, whatever visit it was met in. */
const KEY_OF: Readonly<Record<string, string>> = {
  "typeface-missing": "fonts",
  "typeface-broken": "fonts",
  "logo-unreadable": "logo",
};

/** The problems of a document with those lines in place of the letter's; a character of a template stays where it was. */
export function whereTyped(
  problems: readonly Problem[],
  clinic: Clinic,
  visitFile: string,
  clinicFile?: string,
): Problem[] {
  const ours = clinicFile === undefined ? undefined : sourceOf(clinicFile);
  const found = problems.map((p) => {
    const key = KEY_OF[p.id];
    if (!ours || key === undefined) return p;
    const { file } = ours;
    return { ...p, file, path: key, ...ours.place([], key) };
  });
  const odd = new Set(found.flatMap((p) => (p.id === "no-glyph" && p.found ? [p.found] : [])));
  if (odd.size === 0) return found;
  const visit = sourceOf(visitFile);
  const faces = readTypefaces(clinic.fonts).value;
  const typed = [
    ...(visit ? unprintableIn(visit, faces, isPrinted) : []),
    ...(ours ? unprintableIn(ours, faces) : []),
  ].filter((p) => p.found !== undefined && odd.has(p.found));
  const known = new Set(typed.map((p) => p.found));
  return [...found.filter((p) => p.id !== "no-glyph" || !known.has(p.found)), ...typed];
}

function sourceOf(file: string): YamlSource | undefined {
  const { value: text } = readText(file);
  return text === undefined ? undefined : openYaml(text, file, { asWritten: true }).source;
}

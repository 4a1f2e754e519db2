/** Characters of a visit that no typeface at hand can print, told at the place where they stand while they are typed. */
import type { Problem } from "../base/problem.js";
import { openYaml } from "../base/yaml-source.js";
import { isPrinted } from "../letter/what-prints.js";
import { readTypefaces } from "../page/typefaces.js";
import { unprintableIn } from "../page/unprintable.js";
import type { Clinic } from "../visit/clinic.js";

/** Told with an edit, and again with its weighing: looked for once. */
let last: { readonly of: readonly unknown[]; readonly odd: readonly Problem[] } | undefined;

export function oddCharacters(text: string, file: string, clinic: Clinic | undefined): readonly Problem[] {
  const of = [text, file, clinic];
  if (last?.of.every((part, i) => part === of[i])) return last.odd;
  const { source } = openYaml(text, file, { asWritten: true });
  const odd = source ? unprintableIn(source, readTypefaces(clinic?.fonts).value, isPrinted) : [];
  last = { of, odd };
  return odd;
}

/** Characters of a visit that no typeface at hand can print, told at the place where they stand while they are typed. */
import type { Problem } from "../base/problem.js";
import { openYaml } from "../base/yaml-source.js";
import { isPrinted } from "../letter/what-prints.js";
import { readTypefaces } from "../page/typefaces.js";
import { unprintableIn } from "../page/unprintable.js";
import type { Clinic } from "../visit/clinic.js";

export function oddCharacters(text: string, file: string, clinic: Clinic | undefined): Problem[] {
  const { source } = openYaml(text, file, { asWritten: true });
  return source ? unprintableIn(source, readTypefaces(clinic?.fonts).value, isPrinted) : [];
}

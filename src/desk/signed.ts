/** Whether the text of a visit file says that it is signed, whatever else is wrong with it. */
import { foldWord } from "../base/nearest.js";
import { writtenIn } from "./edit-yaml.js";
import type { Written } from "./messages.js";

/** True when the file says signed; such a file is not edited until it is a draft again. */
export function isSigned(text: string): boolean {
  const visit: Written | undefined = writtenIn(text)?.visit;
  if (typeof visit !== "object" || visit === null || Array.isArray(visit)) return false;
  const { status } = visit as { readonly [key: string]: Written };
  return typeof status === "string" && foldWord(status) === "signed";
}

/** How people are named and addressed. */
import { foldWord } from "../base/nearest.js";
import { fill } from "../base/text.js";
import type { Patient, Recipient } from "../visit/visit.js";
import type { Words } from "./phrases.js";

/** The title as the language prints it; a title the pack does not know stays as recorded. */
function titleText(words: Words, title: string | undefined): string | undefined {
  if (title === undefined) return undefined;
  const bare = title.replace(/\.$/u, "");
  return Object.hasOwn(words.title_words, bare) ? words.title_words[bare] : title;
}

/** `Ms Marit Solheim-Adeyemi` */
export function fullName(words: Words, patient: Patient): string {
  const { title, given, family } = patient.name;
  return [titleText(words, title), given, family].filter(Boolean).join(" ");
}

/** `Ms Solheim-Adeyemi`, or the given name for a child or where no title is recorded. */
export function shortName(words: Words, patient: Patient, isChild: boolean): string {
  const { given, family } = patient.name;
  const title = titleText(words, patient.name.title);
  if (isChild) return given;
  return title ? `${title} ${family}` : `${given} ${family}`;
}

/** A name as typed, its title as the language prints it: `Dr. Anneli Thorsby`. */
export function titledName(words: Words, name: string): string {
  const [first, ...rest] = name.trim().split(/\s+/u);
  return rest.length > 0 ? [titleText(words, first), ...rest].join(" ") : name;
}

/** The role of a recipient as the language prints it; a role the pack does not know stays as written. */
export function roleText(words: Words, role: string): string {
  const key = foldWord(role);
  return Object.hasOwn(words.roles, key) ? (words.roles[key] ?? role) : role;
}

/** `Dear Dr Brandt` from `Dr Ilse Brandt`; a name without a known title is used whole. */
export function recipientSalutation(words: Words, recipient: Recipient): string {
  const parts = recipient.name.trim().split(/\s+/u);
  const first = parts[0]?.replace(/\.$/u, "");
  const titled = first !== undefined && words.titles.includes(first) && parts.length > 1;
  const family = parts.slice(parts.length > 2 ? 2 : 1).join(" ");
  return fill(words.salutation, { name: titled ? `${titleText(words, first)} ${family}` : recipient.name });
}

/** How people are named and addressed. */
import type { Patient, Recipient } from "../visit/visit.js";
import { fill, type Words } from "./words.js";

/** `Ms Marit Solheim-Adeyemi` */
export function fullName(patient: Patient): string {
  return [patient.name.title, patient.name.given, patient.name.family].filter(Boolean).join(" ");
}

/** `Ms Solheim-Adeyemi`, or the given name for a child or where no title is recorded. */
export function shortName(patient: Patient, isChild: boolean): string {
  const { title, given, family } = patient.name;
  if (isChild) return given;
  return title ? `${title} ${family}` : `${given} ${family}`;
}

/** `Dear Dr Brandt` from `Dr Ilse Brandt`; a name without a known title is used whole. */
export function recipientSalutation(words: Words, recipient: Recipient): string {
  const parts = recipient.name.trim().split(/\s+/u);
  const first = parts[0]?.replace(/\.$/u, "");
  const titled = first !== undefined && words.titles.includes(first) && parts.length > 1;
  const family = parts.slice(parts.length > 2 ? 2 : 1).join(" ");
  return fill(words.salutation, { name: titled ? `${first} ${family}` : recipient.name });
}

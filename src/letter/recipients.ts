/** Who reads a letter: one who shares in the care gets the whole of it, anybody else only what they must know to act. */
import { foldWord } from "../base/nearest.js";
import type { PlanLine, Purpose, Recipient } from "../visit/visit.js";

/** Roles that are no part of the care, where the visit file does not say why they read. From the trade's habit; no source. */
const OUTSIDE: readonly (readonly [Purpose, RegExp])[] = [
  ["school", /school|teacher|college|nursery|kindergarten|university/u],
  ["employer", /employer|work ?place|manager|human resources|occupational/u],
  ["insurer", /insur|benefit|pension|lawyer|solicitor|court|police|council|authority/u],
  ["family", /^(?:parent|mother|father|guardian|carer|family|partner|wife|husband|son|daughter)\b/u],
];

/** Why a recipient reads: as recorded, else by the role. */
export function purposeOf(recipient: Recipient): Purpose {
  if (recipient.purpose) return recipient.purpose;
  const role = foldWord(recipient.role);
  return OUTSIDE.find(([, words]) => words.test(role))?.[0] ?? "care";
}

/** True for a reader who shares in the care of the patient. */
export function sharesInCare(recipient: Recipient): boolean {
  return purposeOf(recipient) === "care";
}

/** The same person, however the object came here. */
export function isSame(a: Recipient, b: Recipient): boolean {
  return a === b || (a.name === b.name && a.role === b.role && a.address.join("\n") === b.address.join("\n"));
}

/** True when a plan line names the reader by role, by name, or by why they read. */
export function isFor(line: PlanLine, recipient: Recipient | null): boolean {
  if (!recipient) return false;
  const who = fullRole(line.who);
  if (who === fullRole(recipient.role) || who === foldWord(recipient.name)) return true;
  const purpose = purposeOf(recipient);
  return purpose !== "care" && who === purpose;
}

function fullRole(role: string): string {
  const folded = foldWord(role);
  return folded === "gp" ? "general practitioner" : folded;
}

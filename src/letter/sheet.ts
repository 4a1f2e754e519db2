/** Facts on many visits -> a sheet for the clinic only, by way of a template of its language pack. */
import type { Outcome } from "../base/problem.js";
import type { Clinic } from "../visit/clinic.js";
import type { Letter } from "./document.js";
import { type Drawings, fillTemplate, type SheetFacts } from "./fill-template.js";
import { loadPack } from "./pack.js";
import { writeDate } from "./phrases.js";

export interface SheetInput {
  /** Name of the template, such as `open-work`. */
  readonly name: string;
  readonly facts: SheetFacts;
  readonly drawings?: Drawings;
  readonly clinic: Pick<Clinic, "name" | "language" | "paper" | "templates" | "fonts">;
  /** ISO date of the sheet. */
  readonly date: string;
}

/** Names no patient at its foot: it speaks of many, and stays in the house. */
export function composeSheet({ name, facts, drawings = {}, clinic, date }: SheetInput): Outcome<Letter> {
  const { pack, problems } = loadPack(clinic.language, clinic.templates);
  const template = pack?.sheets[name];
  if (!pack) return { problems };
  if (!template) {
    const message = `no template for the sheet "${name}" in ${clinic.language}`;
    return { problems: [{ severity: "error", id: "unknown-document", message }] };
  }
  const filled = fillTemplate(pack, template, facts, drawings);
  if (filled.html === undefined) return { problems: filled.problems };
  const { words } = pack;
  const value: Letter = {
    kind: name,
    title: template.head.title,
    language: words.language,
    paper: clinic.paper,
    typeSize: template.head.type,
    addressWindow: "none",
    foldMarks: false,
    draftMark: null,
    identifiers: [template.head.title, clinic.name, writeDate(words, date)].filter(Boolean).join(", "),
    confidentiality: words.clinic_only,
    pageWords: words.page,
    date,
    html: filled.html,
    photos: {},
    ...(clinic.fonts === undefined ? {} : { fonts: clinic.fonts }),
  };
  return { value, problems };
}

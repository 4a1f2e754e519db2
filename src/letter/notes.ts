/** What a person should know of a document before it is printed: hard sentences, a language not yet reviewed, words left as written. */
import type { Problem, ProblemKind } from "../base/problem.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Clinic } from "../visit/clinic.js";
import type { Visit } from "../visit/visit.js";
import type { Letter } from "./document.js";
import type { Pack } from "./pack.js";
import { hardSentences, passagesOf, readability } from "./readability.js";

export const LETTER_PROBLEMS = {
  "template-error": {
    meaning: "A template or a part of one cannot be filled.",
    cure: "Correct the line named; templates/VARIABLES.md lists what a template may print.",
  },
  "template-head": {
    meaning: "The lines between --- at the top of a template are not complete.",
    cure: "Give title and reader (doctor, patient, clinician or third party).",
  },
  "no-language-pack": {
    meaning: "There are no words for the language asked for.",
    cure: "Choose another language, or add a folder with words.yaml.",
  },
  "no-own-templates": {
    meaning: "The folder of the clinic's own templates is not there, or holds no folder of a language.",
    cure: "Correct the name of the folder; whorl new templates makes one.",
  },
  "missing-phrase": {
    meaning: "The words of a language lack a phrase that documents print.",
    cure: "Add it to words.yaml.",
  },
  "unknown-document": { meaning: "No template has that name.", cure: "Use one of the names listed." },
  "no-recipient": { meaning: "A letter has nobody to go to.", cure: "Name a recipient under send_to." },
  "hard-sentence": {
    meaning: "A sentence of the handout is hard to read.",
    cure: "Make it shorter, or use plainer words.",
  },
  "unreviewed-pack": {
    meaning: "The words of a language have not been reviewed by a clinician who speaks it from birth.",
    cure: "Have them reviewed before use.",
  },
  "own-words-language": {
    meaning:
      "A document is in another language than the letters of the clinic; what was typed is printed as typed.",
    cure: "Write the plan for the patient in the patient's language.",
  },
} as const satisfies Record<string, ProblemKind>;

/** Names that weigh nothing in a sentence, since nobody can shorten them: of disorders, and of the clinic and its people. */
export function sparedNames(knowledge: Knowledge, clinic: Clinic): string[] {
  return [
    ...Object.values(knowledge.disorders).flatMap((d) => [
      d.patient.name,
      d.patient.name.replace(/\s*\(.*\)$/u, ""),
      d.term,
    ]),
    ...Object.values(clinic.people).map((p) => p.name),
    clinic.name,
  ];
}

/** Names the hardest sentences of a handout, ours and the clinician's alike; none when all read easily. */
export function hardSentenceNotes(handout: Letter, visit: Visit, names: readonly string[]): Problem[] {
  const passages = passagesOf(handout.html);
  const whole = readability(passages, handout.language);
  if (!whole) return [];
  const { given, family } = visit.patient.name;
  return hardSentences(passages, handout.language, [...names, family, given]).map((sentence) => {
    const plan = visit.plan.findIndex((line) => sharesWords(line.action, sentence.text));
    return {
      severity: "note",
      id: "hard-sentence",
      message: `hard to read in the handout: "${sentence.text}" (${sentence.words} words; the whole handout reads at grade ${Math.max(1, Math.round(whole.grade))} by ${whole.formula.name})`,
      ...(plan >= 0 ? { path: `plan[${plan}].action` } : {}),
    };
  });
}

/** The sentence was typed in this line of the plan. */
function sharesWords(typed: string, sentence: string): boolean {
  const fold = (text: string) =>
    text
      .toLowerCase()
      .replace(/[^\p{L}\p{N}]+/gu, " ")
      .trim();
  return fold(typed).includes(fold(sentence)) || fold(sentence).includes(fold(typed));
}

/** What `check` says of the languages a visit's documents are in. */
export function languageNotes(clinic: Clinic, visit: Visit, packs: readonly Pack[]): Problem[] {
  const unreviewed = packs.filter((p) => p.words.review);
  const notes: Problem[] = [...new Map(unreviewed.map((p) => [p.words.language, p])).values()].map((p) => ({
    severity: "note",
    id: "unreviewed-pack",
    message: `the words for language "${p.words.language}" are not yet reviewed: ${p.words.review}`,
  }));
  const base = (tag: string) => tag.split("-")[0]?.toLowerCase();
  if (base(visit.patient.language) !== base(clinic.language)) {
    notes.push({
      severity: "note",
      id: "own-words-language",
      message: `the handout is in "${visit.patient.language}"; plan, notes and names of tests are printed in it as you typed them`,
      path: "patient.language",
    });
  }
  return notes;
}

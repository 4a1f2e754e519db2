/** What a person should know of a document before it is printed: hard sentences, a language not yet reviewed, words left as written. */
import type { Problem } from "../base/problem.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Clinic } from "../visit/clinic.js";
import type { Visit } from "../visit/visit.js";
import type { Letter } from "./document.js";
import type { Pack } from "./pack.js";
import { hardSentences, passagesOf, readability } from "./readability.js";

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

/** What the reader of free text works out from the knowledge alone; a build step keeps it (`index-phrases.mjs`). */
import type { ProseIndex } from "../../knowledge/prose-schema.js";
import type { Knowledge } from "../../knowledge/schema.js";
import { cluesIn } from "./clues.js";
import { indexOf } from "./phrase-list.js";
import { ideasOf, type Phrase, phraseOf, setsOf, stemsOf } from "./phrases.js";
import { triggersOf } from "./scopes.js";
import { spellingsIn } from "./slips.js";
import { foldProse, stemOf } from "./tokens.js";
import { toldIndex } from "./told-words.js";

/** A fact and how it may be written; with the kind of clue where that only hints at the fact. */
export type Wording = readonly [fact: string, written: string, clue?: string];

export function proseIndex(knowledge: Knowledge): ProseIndex {
  const { prose } = knowledge;
  const ideas = ideasOf(ideaWordings(knowledge));
  const facts = wordingsOf(knowledge).map(([, written]) => phraseOf(written, ideas));
  const of = (written: readonly string[]) => written.map((words) => phraseOf(words));
  const scopes = {
    triggers: of(triggersOf(prose).map(([, written]) => written)),
    past: of(prose.past),
    present: of(prose.present),
    ended: of(prose.medicine_ended),
    taken: of(prose.taken_since),
    people: of(prose.people),
    says: of(prose.says_of_the_patient),
  };
  const lists: Readonly<Record<string, readonly Phrase[]>> = {
    facts,
    ...scopes,
    things: of(prose.elsewhere.things),
    body: of(prose.elsewhere.body),
    set: prose.set_phrases.map((written) => phraseOf(written, ideas)),
    onSkinBefore: of(prose.on_the_skin.before),
    onSkinAfter: of(prose.on_the_skin.after),
  };
  const sets = [...new Set(facts.flatMap(setsOf))];
  const known = new Set([
    ...sets.flatMap(stemsOf),
    ...Object.values(scopes).flatMap((phrases) =>
      phrases.flatMap((phrase) => setsOf(phrase).flatMap(stemsOf)),
    ),
    ...prose.true_words.map((word) => stemOf(foldProse(word))),
    ...prose.fillers,
  ]);
  return {
    lists: Object.fromEntries(Object.entries(lists).map(([name, phrases]) => [name, indexOf(phrases)])),
    spellings: spellingsIn(sets),
    known: [...known].join(" "),
    told: toldIndex(knowledge.told),
  };
}

/** Every wording of every fact; a name of a medicine is one of its class. */
export function wordingsOf(knowledge: Knowledge): readonly Wording[] {
  const names = namesByClass(knowledge);
  return Object.values(knowledge.facts).flatMap((fact): readonly Wording[] => [
    ...[...fact.written, ...(names.get(fact.id) ?? [])].map((written) => [fact.id, written] as const),
    ...cluesIn(fact).map(([clue, written]) => [fact.id, written, clue] as const),
  ]);
}

/** The ideas, that of a medicine with every name of the table. */
export function ideaWordings({ prose, medicines }: Knowledge): Readonly<Record<string, readonly string[]>> {
  const names = Object.entries(medicines).flatMap(([name, entry]) => [name, ...entry.also]);
  return { ...prose.ideas, medicine: [...(prose.ideas.medicine ?? []), ...names] };
}

/** Medicine names, so that one told of in a sentence counts for its class. */
function namesByClass(knowledge: Knowledge): Map<string, string[]> {
  const names = new Map<string, string[]>();
  for (const [name, entry] of Object.entries(knowledge.medicines)) {
    for (const id of entry.classes) names.set(id, [...(names.get(id) ?? []), name, ...entry.also]);
  }
  return names;
}

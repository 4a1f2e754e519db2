/** Reads facts of the catalogue from free text. A fact read so is a proposal: it may raise a question and settles nothing. */
import type { MentionPlace } from "../../knowledge/condition.js";
import type { Fact, Knowledge } from "../../knowledge/schema.js";
import {
  firstStems,
  matches,
  mended,
  type Phrase,
  phraseOf,
  type Spelling,
  type Spellings,
  spellingsOf,
  stemsOf,
} from "./phrases.js";
import { type Meant, type Moment, meantBy, type Scopes, scopesOf, triggersIn } from "./scopes.js";
import { type Sentence, sentences } from "./tokens.js";

/** A piece of free text, with the place it stands at. */
export interface ProsePiece {
  /** As a path of the visit file, such as `sites[0].notes`. */
  readonly where: string;
  readonly place: MentionPlace;
  readonly text: string;
}

/** One fact as the words put it. */
export interface ReadFact {
  readonly fact: string;
  readonly state: Exclude<Meant, "only spoken of">;
  readonly where: string;
  /** The words themselves. */
  readonly words: string;
}

interface Book {
  readonly facts: readonly { readonly fact: Fact; readonly phrases: readonly Phrase[] }[];
  /** Facts by a stem that a phrase of theirs begins with; "" for those that begin with a part of a word. */
  readonly byStem: ReadonlyMap<string, readonly { readonly fact: Fact; readonly phrase: Phrase }[]>;
  readonly scopes: Scopes;
  readonly spellings: Spellings;
  readonly known: ReadonlySet<string>;
}

const books = new WeakMap<Knowledge, Book>();

/** Every fact that the pieces speak of, in the order of the text. */
export function readProse(pieces: readonly ProsePiece[], knowledge: Knowledge, moment: Moment): ReadFact[] {
  const book = bookOf(knowledge);
  return pieces.flatMap((piece) =>
    sentences(piece.text).flatMap((s) => readSentence(s, piece, book, moment)),
  );
}

function readSentence(written: Sentence, piece: ProsePiece, book: Book, moment: Moment): ReadFact[] {
  const sentence = mended(written, book.spellings, book.known);
  const keys = new Set(["", ...sentence.map((t) => t.stem)]);
  const found = new Map<string, ReadFact & { at: number }>();
  let triggers: ReturnType<typeof triggersIn> | undefined;
  for (const key of keys) {
    for (const { fact, phrase } of book.byStem.get(key) ?? []) {
      if (fact.written_in && !fact.written_in.includes(piece.place)) continue;
      if (phrase.only !== undefined && phrase.only !== piece.place) continue;
      for (const match of matches(phrase, sentence, book.scopes.fillers)) {
        triggers ??= triggersIn(sentence, book.scopes);
        const medicine = fact.kind === "medicine class";
        const said = meantBy(match, sentence, triggers, book.scopes, moment, medicine);
        const meant = placed(said, piece.place);
        if (meant === "only spoken of") continue;
        const from = sentence[match.from]?.start ?? 0;
        const to = sentence[match.to]?.end ?? 0;
        const read = {
          fact: fact.id,
          state: meant,
          where: piece.where,
          words: piece.text.slice(from, to),
          at: from,
        };
        const before = found.get(fact.id);
        if (!before || STRENGTH.indexOf(meant) < STRENGTH.indexOf(before.state)) found.set(fact.id, read);
      }
    }
  }
  return [...found.values()]
    .toSorted((a, b) => a.at - b.at || (a.fact < b.fact ? -1 : 1))
    .map(({ at: _, ...read }) => read);
}

/** Of two ways to put one fact in a sentence the firmer stands. */
const STRENGTH: readonly ReadFact["state"][] = ["present", "doubtful", "past", "other person", "absent"];

/** A place that is of other people or of the past tells so by itself. */
function placed(meant: Meant, place: MentionPlace): Meant {
  if (meant !== "present" && meant !== "doubtful") return meant;
  if (place === "family" || place === "contacts") return "other person";
  return place === "past" ? "past" : meant;
}

function bookOf(knowledge: Knowledge): Book {
  const known = books.get(knowledge);
  if (known) return known;
  const names = namesByClass(knowledge);
  const { ideas } = knowledge.prose;
  const facts = Object.values(knowledge.facts).map((fact) => ({
    fact,
    phrases: [...fact.written, ...(names.get(fact.id) ?? [])].map((p) => phraseOf(p, ideas)),
  }));
  const scopes = scopesOf(knowledge.prose);
  const byStem = new Map<string, { fact: Fact; phrase: Phrase }[]>();
  for (const { fact, phrases } of facts) {
    for (const phrase of phrases) {
      for (const key of firstStems(phrase)) {
        const list = byStem.get(key);
        if (list) list.push({ fact, phrase });
        else byStem.set(key, [{ fact, phrase }]);
      }
    }
  }
  const all = new Set(facts.flatMap(({ phrases }) => phrases.flatMap(stemsOf)));
  const spellings = new Map<string, Spelling[]>();
  const said = new Set<string>();
  for (const spelling of facts.flatMap(({ phrases }) => phrases.flatMap(spellingsOf))) {
    const letter = spelling.word.charAt(0);
    if (spelling.word.length < 5 || said.has(spelling.word)) continue;
    said.add(spelling.word);
    spellings.set(letter, [...(spellings.get(letter) ?? []), spelling]);
  }
  const triggers = [
    ...scopes.triggers.map(([, p]) => p),
    ...scopes.past,
    ...scopes.present,
    ...scopes.people,
    ...scopes.says,
  ];
  const truth = new Set([
    ...all,
    ...triggers.flatMap(stemsOf),
    ...knowledge.prose.true_words.flatMap((w) => stemsOf(phraseOf(w))),
    ...knowledge.prose.fillers,
  ]);
  const book = { facts, byStem, scopes, spellings, known: truth };
  books.set(knowledge, book);
  return book;
}

/** Medicine names, so that one told of in a sentence counts for its class. */
function namesByClass(knowledge: Knowledge): Map<string, string[]> {
  const names = new Map<string, string[]>();
  for (const [name, entry] of Object.entries(knowledge.medicines)) {
    for (const id of entry.classes) names.set(id, [...(names.get(id) ?? []), name, ...entry.also]);
  }
  return names;
}

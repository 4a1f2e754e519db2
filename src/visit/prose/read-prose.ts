/** Reads facts of the catalogue from free text. A fact read so is a proposal: it may raise a question and settles nothing. */
import type { MentionPlace } from "../../knowledge/condition.js";
import type { ProseIndex } from "../../knowledge/prose-schema.js";
import type { Knowledge } from "../../knowledge/schema.js";
import { cluesIn, counts, type Read, type ReadFact, withClues } from "./clues.js";
import { isPutOnSkin, type OnSkin, onSkinOf } from "./on-skin.js";
import { ideasOf, matches, type Phrase, phraseOf, setsOf, stemsOf } from "./phrases.js";
import { type Meant, type Moment, meantBy, type Scopes, scopesOf, triggersIn } from "./scopes.js";
import { mended, spellingsIn } from "./slips.js";
import { toldIn } from "./told-words.js";
import { foldProse, type Sentence, sentences, stemOf } from "./tokens.js";

export type { ReadFact } from "./clues.js";

/** A piece of free text, with the place it stands at. */
export interface ProsePiece {
  /** As a path of the visit file, such as `sites[0].notes`. */
  readonly where: string;
  readonly place: MentionPlace;
  readonly text: string;
}

/** Kinds of facts that are of the body. */
const OF_BODY: readonly string[] = ["sign", "pattern", "red flag"];

interface Book {
  readonly index: ProseIndex;
  readonly known: ReadonlySet<string>;
  readonly scopes: Scopes;
  readonly onSkin: OnSkin;
  /** Names of medicines that count for nothing where they are put on the skin. */
  readonly skinToo: ReadonlySet<string>;
  readonly setPhrases: readonly Phrase[];
  readonly things: readonly Phrase[];
  readonly body: readonly Phrase[];
  /** Facts that are told beside things too. */
  readonly except: ReadonlySet<string>;
  /** A phrase by its number; most are never needed, so each is made ready on first use. */
  phrase(number: number): Phrase;
}

const books = new WeakMap<Knowledge, Book>();

/** Every fact that the pieces speak of, in the order of the text. */
export function readProse(pieces: readonly ProsePiece[], knowledge: Knowledge, moment: Moment): ReadFact[] {
  const book = bookOf(knowledge);
  const all = pieces.flatMap((piece) => {
    const text = sentences(piece.text);
    const read = text.flatMap((s) => readSentence(s, piece, book, moment, knowledge.facts));
    return [...read, ...toldReads(text, piece, read, knowledge, book, moment)];
  });
  return withClues(all, knowledge.facts);
}

/** What the words of a text tell together, where no wording of the lists was met; left open, for they are no statement. */
function toldReads(
  text: readonly Sentence[],
  { where, place, text: written }: ProsePiece,
  read: readonly Read[],
  { told, facts }: Knowledge,
  { scopes }: Book,
  moment: Moment,
): Read[] {
  return toldIn(text, told, scopes, moment).flatMap(({ fact, start, end }): Read[] => {
    const of = facts[fact];
    if (!of || (of.written_in && !of.written_in.includes(place))) return [];
    if (read.some((r) => r.fact === fact && r.clue === undefined)) return [];
    const state = placed("doubtful", place, false);
    return state === "only spoken of" ? [] : [{ fact, state, where, words: written.slice(start, end) }];
  });
}

function readSentence(
  written: Sentence,
  piece: ProsePiece,
  book: Book,
  moment: Moment,
  facts: Knowledge["facts"],
): Read[] {
  const sentence = mended(written, book.index.spellings, book.known);
  const keys = new Set(["", ...sentence.map((t) => t.stem)]);
  const found = new Map<string, Read & { at: number }>();
  let idle: ReadonlySet<number> | undefined;
  let triggers: ReturnType<typeof triggersIn> | undefined;
  const tried = new Set<number>();
  const names = (phrases: readonly Phrase[]) =>
    phrases.some((p) => matches(p, sentence, book.scopes.fillers).length > 0);
  const ofThings = names(book.things) && !names(book.body);
  for (const key of keys) {
    for (const number of Object.hasOwn(book.index.byStem, key) ? (book.index.byStem[key] ?? []) : []) {
      // A phrase that may begin in several ways is listed under each.
      if (tried.has(number)) continue;
      tried.add(number);
      const fact = facts[book.index.phrases[number]?.[0] ?? ""];
      if (!fact || (fact.written_in && !fact.written_in.includes(piece.place))) continue;
      if (ofThings && OF_BODY.includes(fact.kind) && !book.except.has(fact.id)) continue;
      const phrase = book.phrase(number);
      if (phrase.only !== undefined && phrase.only !== piece.place) continue;
      for (const match of matches(phrase, sentence, book.scopes.fillers)) {
        idle ??= heldBy(book.setPhrases, sentence, book.scopes.fillers);
        if ([...match.held].some((at) => idle?.has(at))) continue;
        triggers ??= triggersIn(sentence, book.scopes);
        const medicine = fact.kind === "medicine class";
        if (
          medicine &&
          book.skinToo.has(book.index.phrases[number]?.[1] ?? "") &&
          isPutOnSkin(sentence, match.from, match.to, book.onSkin)
        )
          continue;
        const said = meantBy(match, sentence, triggers, book.scopes, moment, medicine);
        const goesOn =
          medicine && !book.scopes.ended.some((p) => matches(p, sentence, book.scopes.fillers).length > 0);
        const meant = placed(said, piece.place, goesOn);
        const clue = book.index.phrases[number]?.[2];
        if (meant === "only spoken of" || (clue !== undefined && !counts(meant))) continue;
        const from = sentence[match.from]?.start ?? 0;
        const to = sentence[match.to]?.end ?? 0;
        const read = {
          fact: fact.id,
          state: meant,
          where: piece.where,
          words: piece.text.slice(from, to),
          at: from,
          ...(clue === undefined ? {} : { clue }),
        };
        const key = `${fact.id} ${clue ?? ""}`;
        const before = found.get(key);
        if (!before || STRENGTH.indexOf(meant) < STRENGTH.indexOf(before.state)) found.set(key, read);
      }
    }
  }
  return [...found.values()]
    .toSorted((a, b) => a.at - b.at || (a.fact < b.fact ? -1 : 1))
    .map(({ at: _, ...read }) => read);
}

/** The words that belong to phrases which speak of something else. */
const heldBy = (phrases: readonly Phrase[], sentence: Sentence, fillers: ReadonlySet<string>) =>
  new Set(phrases.flatMap((phrase) => matches(phrase, sentence, fillers).flatMap((m) => [...m.held])));

/** Of two ways to put one fact in a sentence the firmer stands. */
const STRENGTH: readonly ReadFact["state"][] = ["present", "doubtful", "past", "other person", "absent"];

/** A place that is of other people or of the past tells so by itself; a medicine may go on that is named there for what it treats. */
function placed(meant: Meant, place: MentionPlace, goesOn: boolean): Meant {
  if (meant !== "present" && meant !== "doubtful") return meant;
  if (place === "family" || place === "contacts") return "other person";
  return place === "past" && !goesOn ? "past" : meant;
}

function bookOf(knowledge: Knowledge): Book {
  const known = books.get(knowledge);
  if (known) return known;
  const index = knowledge.proseIndex ?? proseIndex(knowledge);
  const ideas = ideasOf(wordings(knowledge));
  const ready = new Map<number, Phrase>();
  const phrase = (number: number) => {
    const found = ready.get(number) ?? phraseOf(index.phrases[number]?.[1] ?? "", ideas);
    ready.set(number, found);
    return found;
  };
  const book = {
    index,
    known: new Set(index.known),
    scopes: scopesOf(knowledge.prose),
    onSkin: onSkinOf(knowledge.prose),
    skinToo: skinTooOf(knowledge),
    things: knowledge.prose.elsewhere.things.map((written) => phraseOf(written)),
    body: knowledge.prose.elsewhere.body.map((written) => phraseOf(written)),
    except: new Set(knowledge.prose.elsewhere.except),
    setPhrases: knowledge.prose.set_phrases.map((written) => phraseOf(written, ideas)),
    phrase,
  };
  books.set(knowledge, book);
  return book;
}

/** What hangs on the knowledge alone. */
export function proseIndex(knowledge: Knowledge): ProseIndex {
  const names = namesByClass(knowledge);
  const ideas = ideasOf(wordings(knowledge));
  const phrases = Object.values(knowledge.facts).flatMap((fact): ProseIndex["phrases"] => [
    ...[...fact.written, ...(names.get(fact.id) ?? [])].map((written) => [fact.id, written] as const),
    ...cluesIn(fact).map(([clue, written]) => [fact.id, written, clue] as const),
  ]);
  const ready = phrases.map(([, written]) => phraseOf(written, ideas));
  const byStem: Record<string, number[]> = {};
  for (const [number, phrase] of ready.entries()) {
    for (const stem of phrase.starts) {
      const list = Object.hasOwn(byStem, stem) ? byStem[stem] : undefined;
      if (list) list.push(number);
      else byStem[stem] = [number];
    }
  }
  const scopes = scopesOf(knowledge.prose);
  const triggers = [
    ...scopes.triggers.map(([, p]) => p),
    ...scopes.past,
    ...scopes.present,
    ...scopes.ended,
    ...scopes.taken,
    ...scopes.people,
    ...scopes.says,
  ];
  const sets = [...new Set(ready.flatMap(setsOf))];
  const known = new Set([
    ...sets.flatMap(stemsOf),
    ...triggers.flatMap((phrase) => setsOf(phrase).flatMap(stemsOf)),
    ...knowledge.prose.true_words.map((word) => stemOf(foldProse(word))),
    ...knowledge.prose.fillers,
  ]);
  return { phrases, byStem, spellings: spellingsIn(sets), known: [...known] };
}

/** The ideas, that of a medicine with every name of the table. */
function wordings({ prose, medicines }: Knowledge): Readonly<Record<string, readonly string[]>> {
  const names = Object.entries(medicines).flatMap(([name, entry]) => [name, ...entry.also]);
  return { ...prose.ideas, medicine: [...(prose.ideas.medicine ?? []), ...names] };
}

const skinTooOf = ({ medicines }: Knowledge): ReadonlySet<string> =>
  new Set(Object.entries(medicines).flatMap(([name, m]) => (m.on_the_skin ? [name, ...m.also] : [])));

/** Medicine names, so that one told of in a sentence counts for its class. */
function namesByClass(knowledge: Knowledge): Map<string, string[]> {
  const names = new Map<string, string[]>();
  for (const [name, entry] of Object.entries(knowledge.medicines)) {
    for (const id of entry.classes) names.set(id, [...(names.get(id) ?? []), name, ...entry.also]);
  }
  return names;
}

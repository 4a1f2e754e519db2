/** Reads facts of the catalogue from free text. A fact read so is a proposal: it may raise a question and settles nothing. */
import type { MentionPlace } from "../../knowledge/condition.js";
import type { Knowledge } from "../../knowledge/schema.js";
import { answeredNo, isWithin, type Stretch } from "./asked.js";
import { counts, type Read, type ReadFact, withClues } from "./clues.js";
import { soundsHarmless } from "./manner.js";
import { isPutOnSkin, type OnSkin, onSkinOf } from "./on-skin.js";
import { found, type PhraseList, phraseList, standsIn } from "./phrase-list.js";
import { beginsAt, ideasOf, matches } from "./phrases.js";
import { ideaWordings, proseIndex, type Wording, wordingsOf } from "./prose-index.js";
import { type Meant, type Moment, meantBy, type Scopes, scopesOf, triggersIn } from "./scopes.js";
import { mended, type Spellings } from "./slips.js";
import { type Sentence, sentences } from "./tokens.js";
import {
  speaksOfElse,
  type ToldWords,
  toldIn,
  toldWords,
  type Weighing,
  weighed,
  weighingWords,
} from "./told-words.js";

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

/** A reading with the character at which its words begin. */
type ReadAt = Read & { readonly at: number };

interface Book {
  readonly spellings: Spellings;
  readonly known: ReadonlySet<string>;
  readonly scopes: Scopes;
  readonly onSkin: OnSkin;
  /** Names of medicines that count for nothing where they are put on the skin. */
  readonly skinToo: ReadonlySet<string>;
  readonly setPhrases: PhraseList;
  readonly things: PhraseList;
  readonly body: PhraseList;
  /** Facts that are told beside things too. */
  readonly except: ReadonlySet<string>;
  readonly wordings: readonly Wording[];
  /** The phrases of the wordings, by the same numbers. */
  readonly phrases: PhraseList;
  readonly toldWords: ToldWords;
}

const books = new WeakMap<Knowledge, Book>();

/** Every fact that the pieces speak of, in the order of the text. */
export function readProse(pieces: readonly ProsePiece[], knowledge: Knowledge, moment: Moment): ReadFact[] {
  const book = bookOf(knowledge);
  const all = pieces.flatMap((piece) => {
    const text = sentences(piece.text);
    const denied = answeredNo(piece.text);
    const words = weighedText(text, denied, book, moment);
    const heard = bySound(text, knowledge);
    const read = text.flatMap((s, i) =>
      readSentence(s, piece, denied, book, moment, knowledge.facts)
        .filter((r) => r.clue === undefined || !speaksOfElse(r.fact, i, words, knowledge.told))
        .map(({ at, ...r }) => heard(r, at, i)),
    );
    const told = toldReads(words, piece, read, knowledge, book.toldWords).map(({ at, ...r }) =>
      heard(
        r,
        at,
        text.findLastIndex((s) => (s[0]?.start ?? 0) <= at),
      ),
    );
    return [...read, ...told];
  });
  return withClues(all, knowledge.facts);
}

/** What may be named in passing; what is seen or taken may not. */
const TOLD_OF: readonly string[] = ["red flag", "history", "exposure"];

/** What is told as harmless things are told is no statement. */
function bySound(text: readonly Sentence[], { told, facts }: Knowledge) {
  return (read: Read, start: number, sentence: number): Read => {
    const fact = facts[read.fact];
    if (!fact || !TOLD_OF.includes(fact.kind) || !counts(read.state)) return read;
    const named = { sentence, start, end: start + read.words.length };
    return soundsHarmless(text, named, fact.urgency, told.manner) ? { ...read, state: "harmless" } : read;
  };
}

function weighedText(text: readonly Sentence[], denied: readonly Stretch[], book: Book, moment: Moment) {
  const { toldWords: weights } = book;
  const words = text.map((sentence) => weighing(sentence, denied, book, moment, (stem) => weights.has(stem)));
  return weighed(words, weights, (fact) => book.except.has(fact));
}

/** What the words of a text tell together, where no wording of the lists was met; left open, for they are no statement. */
function toldReads(
  words: ReturnType<typeof weighed>,
  { where, place, text: written }: ProsePiece,
  read: readonly Read[],
  { told, facts }: Knowledge,
  weights: ToldWords,
): ReadAt[] {
  return toldIn(words, told, weights).flatMap(({ fact, start, end }) => {
    const of = facts[fact];
    if (!of || (of.written_in && !of.written_in.includes(place))) return [];
    if (read.some((r) => r.fact === fact && r.clue === undefined)) return [];
    const state = placed("doubtful", place, false);
    return state === "only spoken of"
      ? []
      : [{ fact: of.id, state, where, words: written.slice(start, end), at: start }];
  });
}

/** Words of a sentence that may weigh, those of set phrases left out. */
function weighing(
  sentence: Sentence,
  denied: readonly Stretch[],
  { scopes, setPhrases, things, body }: Book,
  moment: Moment,
  weighs: (stem: string) => boolean,
): Weighing[] {
  if (!sentence.some(({ stem }) => weighs(stem))) return [];
  const idle = heldBy(setPhrases, sentence, scopes.fillers);
  const ofThings = standsIn(things, sentence, scopes.fillers) && !standsIn(body, sentence, scopes.fillers);
  return weighingWords(
    sentence,
    scopes,
    moment,
    (stem, at) => !idle.has(at) && !isWithin(denied, sentence[at]?.start ?? 0) && weighs(stem),
  ).map((w) => ({
    ...w,
    ofThings,
  }));
}

/** Every word of a text that could weigh, sentence by sentence: what words are learned from. */
export function wordsOf(text: string, knowledge: Knowledge, moment: Moment): Weighing[][] {
  const book = bookOf(knowledge);
  const denied = answeredNo(text);
  return sentences(text).map((s) => weighing(s, denied, book, moment, () => true));
}

function readSentence(
  written: Sentence,
  piece: ProsePiece,
  denied: readonly Stretch[],
  book: Book,
  moment: Moment,
  facts: Knowledge["facts"],
): ReadAt[] {
  const sentence = mended(written, book.spellings, book.known);
  const { fillers } = book.scopes;
  const reads = new Map<string, ReadAt>();
  let idle: ReadonlySet<number> | undefined;
  let triggers: ReturnType<typeof triggersIn> | undefined;
  const ofThings = standsIn(book.things, sentence, fillers) && !standsIn(book.body, sentence, fillers);
  const met = book.phrases.near(sentence).flatMap(([number, phrase]) => {
    const [id = "", name, clue] = book.wordings[number] ?? [];
    const fact = facts[id];
    if (!fact || (fact.written_in && !fact.written_in.includes(piece.place))) return [];
    if (ofThings && OF_BODY.includes(fact.kind) && !book.except.has(fact.id)) return [];
    if (phrase.only !== undefined && phrase.only !== piece.place) return [];
    const all = matches(phrase, sentence, fillers);
    return all.length > 0 ? [{ fact, name, clue, all, begins: beginsAt(phrase, sentence) }] : [];
  });
  // Of two wordings equally firm that stands which may begin first in the sentence.
  for (const { fact, name = "", clue, all } of met.sort((a, b) => a.begins - b.begins)) {
    for (const match of all) {
      idle ??= heldBy(book.setPhrases, sentence, fillers);
      if ([...match.held].some((at) => idle?.has(at))) continue;
      triggers ??= triggersIn(sentence, book.scopes);
      const medicine = fact.kind === "medicine class";
      if (medicine && book.skinToo.has(name) && isPutOnSkin(sentence, match.from, match.to, book.onSkin))
        continue;
      const asked = isWithin(denied, sentence[match.from]?.start ?? 0);
      const said = asked ? "absent" : meantBy(match, sentence, triggers, book.scopes, moment, medicine);
      const goesOn = medicine && !standsIn(book.scopes.ended, sentence, fillers);
      const meant = placed(said, piece.place, goesOn);
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
      const before = reads.get(key);
      if (!before || STRENGTH.indexOf(meant) < STRENGTH.indexOf(before.state)) reads.set(key, read);
    }
  }
  return [...reads.values()].toSorted((a, b) => a.at - b.at || (a.fact < b.fact ? -1 : 1));
}

/** The words that belong to phrases which speak of something else. */
const heldBy = (phrases: PhraseList, sentence: Sentence, fillers: ReadonlySet<string>) =>
  new Set(found(phrases, sentence, fillers).flatMap((m) => [...m.held]));

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
  const index = knowledge.readerIndex ?? proseIndex(knowledge);
  const ideas = ideasOf(ideaWordings(knowledge));
  const { elsewhere, set_phrases } = knowledge.prose;
  const wordings = wordingsOf(knowledge);
  const book = {
    spellings: index.spellings,
    known: new Set(index.known.split(" ")),
    scopes: scopesOf(knowledge.prose, index.lists),
    onSkin: onSkinOf(knowledge.prose, index.lists),
    skinToo: skinTooOf(knowledge),
    things: phraseList(elsewhere.things, index.lists.things),
    body: phraseList(elsewhere.body, index.lists.body),
    except: new Set(elsewhere.except),
    setPhrases: phraseList(set_phrases, index.lists.set, ideas),
    wordings,
    phrases: phraseList(
      wordings.map(([, written]) => written),
      index.lists.facts,
      ideas,
    ),
    toldWords: toldWords(knowledge.told, index.told),
  };
  books.set(knowledge, book);
  return book;
}

const skinTooOf = ({ medicines }: Knowledge): ReadonlySet<string> =>
  new Set(Object.entries(medicines).flatMap(([name, m]) => (m.on_the_skin ? [name, ...m.also] : [])));

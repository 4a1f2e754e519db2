/**
 * How a statement is meant: present, denied, left open, only spoken of, past, or of another person. After NegEx (Chapman 2001) and
 * ConText (Harkema 2009): a word reaches forwards or backwards until a word that ends its scope, a comma that begins a new
 * statement, or the end of the sentence.
 */
import type { Prose } from "../../knowledge/prose-schema.js";
import { found, type PhraseIndexes, type PhraseList, phraseList, standsIn } from "./phrase-list.js";
import { type Match, matches } from "./phrases.js";
import type { Sentence } from "./tokens.js";

export type Meant = "present" | "absent" | "doubtful" | "past" | "other person" | "only spoken of";

type Trigger =
  | "nothing"
  | "denies"
  | "denied"
  | "next"
  | "opens"
  | "opened"
  | "spoken"
  | "spokenBefore"
  | "planned"
  | "untaken"
  | "ends";

interface Found extends Match {
  readonly kind: Trigger;
}

export interface Scopes {
  readonly triggers: PhraseList;
  /** What each of the triggers is. */
  readonly kinds: readonly Trigger[];
  readonly past: PhraseList;
  readonly present: PhraseList;
  readonly ended: PhraseList;
  readonly taken: PhraseList;
  readonly people: PhraseList;
  readonly says: PhraseList;
  readonly mayFollow: ReadonlySet<string>;
  readonly standAfter: ReadonlySet<string>;
  readonly goOn: ReadonlySet<string>;
  readonly reach: Prose["reach"];
  readonly fillers: ReadonlySet<string>;
}

export function scopesOf(prose: Prose, indexes: PhraseIndexes = {}): Scopes {
  const written = triggersOf(prose);
  return {
    triggers: phraseList(
      written.map(([, words]) => words),
      indexes.triggers,
    ),
    kinds: written.map(([kind]) => kind),
    past: phraseList(prose.past, indexes.past),
    present: phraseList(prose.present, indexes.present),
    ended: phraseList(prose.medicine_ended, indexes.ended),
    taken: phraseList(prose.taken_since, indexes.taken),
    people: phraseList(prose.people, indexes.people),
    says: phraseList(prose.says_of_the_patient, indexes.says),
    mayFollow: new Set(prose.people_may_follow),
    standAfter: new Set(prose.people_stand_after),
    goOn: new Set(prose.people_go_on),
    reach: prose.reach,
    fillers: new Set(prose.fillers),
  };
}

export function triggersOf(prose: Prose): (readonly [kind: Trigger, written: string])[] {
  const of = (kind: Trigger, list: readonly string[]) => list.map((written) => [kind, written] as const);
  return [
    ...of("nothing", prose.denies_nothing),
    ...of("opened", prose.leaves_open_what_stands_before),
    ...of("opens", prose.leaves_open_what_follows),
    ...of("spokenBefore", prose.only_spoken_of_before),
    ...of("spoken", prose.only_spoken_of),
    ...of("planned", prose.not_yet_taken),
    ...of("untaken", prose.not_taken_before),
    ...of("denied", prose.denies_what_stands_before),
    ...of("denies", prose.denies_what_follows),
    ...of("next", prose.denies_next_word),
    ...of("ends", prose.ends_scope),
  ];
}

const NONE: ReadonlySet<string> = new Set();
const SINCE: ReadonlySet<string> = new Set(["since", "seit", "desde"]);
/** Ages in words that are no hour of the day. */
const AGES: ReadonlyMap<string, number> = new Map(
  ["thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"].map(
    (word, i) => [word, i + 13],
  ),
);
const RELATIVE: ReadonlySet<string> = new Set(["who", "whose"]);
const JOINS: ReadonlySet<string> = new Set(["or", "nor"]);
const JOINS_ON: ReadonlySet<string> = new Set(["and", "also", "now", "then", "still"]);

/** The words of a sentence that turn statements round; a longer phrase hides the shorter ones inside it. */
export function triggersIn(sentence: Sentence, scopes: Scopes): readonly Found[] {
  const all = scopes.triggers
    .near(sentence)
    .flatMap(([number, phrase]) =>
      matches(phrase, sentence, NONE).map((m): Found => ({ ...m, kind: scopes.kinds[number] ?? "nothing" })),
    );
  const length = (f: Found) => f.to - f.from;
  return all.filter(
    (f) =>
      !all.some(
        // `Not take` speaks of medicines alone, and hides nothing of the `not` in it.
        (o) =>
          o.kind !== f.kind &&
          o.kind !== "untaken" &&
          length(o) > length(f) &&
          o.from <= f.from &&
          o.to >= f.to,
      ),
  );
}

/** When the text was written: the year of the visit, and the age of the patient where it is known. */
export interface Moment {
  readonly year: number;
  readonly age?: number;
}

/** What is meant by the words matched. */
export function meantBy(
  match: Match,
  sentence: Sentence,
  triggers: readonly Found[],
  scopes: Scopes,
  moment: Moment,
  /** True for a medicine, which may be spoken of before it is taken. */
  medicine: boolean,
): Meant {
  // Words that the phrase itself names turn nothing round.
  const live = triggers.filter((t) => !overlaps(t, match));
  if (otherPerson(match, sentence, scopes)) return "other person";
  if (reached(match, sentence, live, scopes, "spoken", "spokenBefore")) return "only spoken of";
  if (medicine && notTaken(match, sentence, live, scopes)) return "only spoken of";
  if (reached(match, sentence, live, scopes, "opens", "opened")) return "doubtful";
  if (reached(match, sentence, live, scopes, "denies", "denied") || nextWord(match, live)) return "absent";
  if (isPast(match, sentence, scopes, moment)) return "past";
  return "present";
}

/** Considered, refused or never collected, and not taken after all. */
function notTaken(match: Match, sentence: Sentence, live: readonly Found[], scopes: Scopes): boolean {
  const planned = reached(match, sentence, live, scopes, "planned", "untaken");
  // `Prescribed, never collected`: what opens a later part speaks of the medicine before it.
  const later = live.some((t) => {
    if (t.kind !== "untaken" || t.from <= match.to || t.from - match.to > scopes.reach.before) return false;
    const between = sentence.slice(match.to + 1, t.from);
    const begins = between.findLastIndex((w, i) => {
      const next = between[i + 1] ?? sentence[t.from];
      return w.part !== next?.part || live.some((o) => o.kind === "ends" && o.to === match.to + 1 + i);
    });
    return begins >= 0 && between.slice(begins + 1).every((w) => scopes.fillers.has(w.word));
  });
  if (!planned && !later) return false;
  const undone = (at: number) =>
    live.some((t) => (t.from <= at && t.to >= at) || (t.kind === "denies" && t.to < at && at - t.to <= 2));
  const taken = found(scopes.taken, sentence, NONE);
  return !taken.some((m) => m.from > match.to && !undone(m.from));
}

function overlaps(t: Match, match: Match): boolean {
  for (let i = t.from; i <= t.to; i++) if (match.held.has(i)) return true;
  return false;
}

const nextWord = (match: Match, live: readonly Found[]) =>
  live.some((t) => t.kind === "next" && t.to === match.from - 1);

/** True when a trigger before reaches forwards to the match, or one after reaches back. */
function reached(
  match: Match,
  sentence: Sentence,
  live: readonly Found[],
  scopes: Scopes,
  forwards: Trigger,
  backwards?: Trigger,
): boolean {
  const ended = (from: number, to: number) =>
    live.some((t) => t.kind === "ends" && t.from > from && t.to < to) || newStatement(sentence, from, to);
  return live.some((t) => {
    // A trigger between the words of a phrase in two parts speaks of it too.
    if (t.kind === forwards && t.from > match.from && t.to < match.to) return true;
    if (t.kind === forwards && t.to < match.from)
      return match.from - t.to <= scopes.reach.before && !ended(t.to, match.from);
    if (backwards && t.kind === backwards && t.from > match.to)
      return (
        t.from - match.to <= scopes.reach.after && !ended(match.to, t.from) && !headsOn(t, live, sentence)
      );
    return false;
  });
}

/** `None`, `no` or `never` at the head of a new part speaks of what follows it, not of what stands before. */
function headsOn(t: Found, live: readonly Found[], sentence: Sentence): boolean {
  if (t.kind === "untaken") return false;
  const next = sentence[t.to + 1];
  const forwardToo = live.some((o) => o.kind === "denies" && o.from === t.from);
  return forwardToo && next !== undefined && next.part === sentence[t.to]?.part;
}

/** A comma between begins a new statement, unless it parts a short list that goes on to an `or`. */
function newStatement(sentence: Sentence, from: number, to: number): boolean {
  const first = sentence[from]?.part ?? 0;
  const last = sentence[to]?.part ?? 0;
  if (first === last) return false;
  for (let part = first; part <= last; part++) {
    const words = sentence.filter((t) => t.part === part);
    const most = part === first || words.some((t) => JOINS.has(t.word)) ? 6 : 4;
    if (words.length > most) return true;
  }
  return !sentence.some((t) => t.part > first && JOINS.has(t.word));
}

function isPast(match: Match, sentence: Sentence, scopes: Scopes, { year, age }: Moment): boolean {
  const part = sentence[match.from]?.part;
  const near = (m: Match) => {
    const here = sentence[m.from]?.part ?? 0;
    return here === part || (m.from > match.to && here === (sentence[match.to]?.part ?? 0) + 1);
  };
  const within = (phrases: PhraseList) =>
    found(phrases, sentence, NONE).filter((m) => near(m) && !overlaps(m, match));
  const years = sentence.some(
    (t, i) =>
      t.part === part &&
      /^(?:19|20)\d\d$/u.test(t.word) &&
      Number(t.word) < year &&
      !SINCE.has(sentence[i - 1]?.word ?? ""),
  );
  // `at 17`, said of someone older.
  const younger = sentence.some(
    (t, i) =>
      t.part === part &&
      /^\d{1,2}$/u.test(t.word) &&
      sentence[i - 1]?.word === "at" &&
      (sentence[i + 1]?.part ?? -1) !== part &&
      age !== undefined &&
      Number(t.word) < age - 1,
  );
  const asTeenager = sentence.some(
    (t, i) =>
      t.part === part && t.word === "at" && (AGES.get(sentence[i + 1]?.word ?? "") ?? 200) < (age ?? 0) - 1,
  );
  const past = within(scopes.past);
  // The `now` of `clear now` brings nothing back.
  const present = within(scopes.present).filter((m) => !past.some((p) => p.from <= m.from && p.to >= m.to));
  return (years || younger || asTeenager || past.length > 0) && present.length === 0;
}

/** The match stands in the part that names the person, or in one of those after it that go on with a verb and no subject. */
function goesOn(person: Match, match: Match, sentence: Sentence, scopes: Scopes): boolean {
  const first = sentence[person.from]?.part ?? 0;
  const last = sentence[match.from]?.part ?? 0;
  for (let part = first + 1; part <= last; part++) {
    const opens = sentence.find((t) => t.part === part && !JOINS_ON.has(t.word));
    if (opens && !scopes.goOn.has(opens.word)) return false;
  }
  return true;
}

/** `Lives with her father, who has it`: what follows `who` is of the person before it, wherever that person stands. */
function whoIs(person: Match, match: Match, sentence: Sentence, scopes: Scopes): boolean {
  const at = [1, 2].map((i) => person.to + i).find((i) => RELATIVE.has(sentence[i]?.word ?? ""));
  if (at === undefined || match.from <= at || !goesOn(person, match, sentence, scopes)) return false;
  return !standsIn(scopes.says, sentence.slice(at + 1, at + 4), NONE);
}

/** Another person is the subject: named at the head of the part, or after `in` or `of` behind the match. */
function otherPerson(match: Match, sentence: Sentence, scopes: Scopes): boolean {
  return found(scopes.people, sentence, NONE).some((m) => {
    if (overlaps(m, match)) return false;
    const part = sentence[m.from]?.part;
    if (whoIs(m, match, sentence, scopes)) return true;
    if (m.from > match.to) {
      const before = sentence.slice(match.to + 1, m.from);
      const joins = before.findLast((t) => !scopes.mayFollow.has(t.word));
      return (
        part === sentence[match.to]?.part &&
        joins !== undefined &&
        scopes.standAfter.has(joins.word) &&
        before.length <= 3
      );
    }
    if (!goesOn(m, match, sentence, scopes)) return false;
    const head = sentence.slice(0, m.from).filter((t) => t.part === part);
    if (!head.every((t) => scopes.mayFollow.has(t.word))) return false;
    const after = sentence.slice(m.to + 1, m.to + 4);
    return !standsIn(scopes.says, after, NONE);
  });
}

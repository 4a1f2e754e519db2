/** Whether a medicine is told of as put on the skin or into the eye: there it does not act as it does when it is swallowed or injected. */
import type { Prose } from "../../knowledge/prose-schema.js";
import { found, type PhraseIndexes, type PhraseList, phraseList } from "./phrase-list.js";
import type { Sentence } from "./tokens.js";

/** How far from its name the words may stand. */
const REACH = 6;
/** A strength between the name and its form, as in `0.1 % w/w ointment`. */
const STRENGTH = /^(?:\d.*|percent|w\/w|mg\/g|mg|g|strength)$/u;

export interface OnSkin {
  readonly before: PhraseList;
  readonly after: PhraseList;
  readonly fillers: ReadonlySet<string>;
}

export const onSkinOf = (prose: Prose, indexes: PhraseIndexes = {}): OnSkin => ({
  before: phraseList(prose.on_the_skin.before, indexes.onSkinBefore),
  after: phraseList(prose.on_the_skin.after, indexes.onSkinAfter),
  fillers: new Set(prose.fillers),
});

/** The name stands at these words of the sentence. */
export function isPutOnSkin(sentence: Sentence, from: number, to: number, words: OnSkin): boolean {
  const part = sentence[from]?.part;
  const after = sentence.slice(to + 1, to + 1 + REACH).filter((t) => t.part === part);
  const next = after.findIndex((t) => !STRENGTH.test(t.word));
  const before = sentence.slice(Math.max(0, from - REACH), from).filter((t) => t.part === part);
  const last = before.findLastIndex((t) => !STRENGTH.test(t.word));
  return (
    found(words.after, after, words.fillers).some((m) => m.from === next) ||
    found(words.before, before, words.fillers).some((m) => m.to === last)
  );
}

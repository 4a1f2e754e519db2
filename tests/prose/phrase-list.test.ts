import { describe, expect, it } from "vitest";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { indexOf, phraseList } from "../../src/visit/prose/phrase-list.js";
import { ideasOf, matches, phraseOf } from "../../src/visit/prose/phrases.js";
import { ideaWordings, wordingsOf } from "../../src/visit/prose/prose-index.js";
import { sentences } from "../../src/visit/prose/tokens.js";

const knowledge = loadKnowledge();
const FILLERS = new Set(knowledge.prose.fillers);

describe("a list of phrases", () => {
  it("keeps each under the words that the fewest others name", () => {
    expect(
      indexOf(["hair lost", "hair thin|=thinned", "hair & >3 cm", "dermat* 4*"].map((p) => phraseOf(p))),
    ).toEqual({
      lost: [0],
      thin: [1],
      "#": [2],
      "*der": [3],
    });
  });

  it("meets a sentence with those alone that it may hold, in their order", () => {
    const list = phraseList(["hair lost", "lost & hair", "hair thin", "inflam*"]);
    const near = (text: string) => list.near(sentences(text)[0] ?? []).map(([number]) => number);
    expect(near("the hair is lost")).toEqual([0, 1]);
    expect(near("inflamed, thin")).toEqual([2, 3]);
    expect(near("hair")).toEqual([]);
  });

  it("passes over no wording of any fact that stands in a sentence", () => {
    const ideas = ideasOf(ideaWordings(knowledge));
    const wordings = wordingsOf(knowledge).map(([, written]) => written);
    const list = phraseList(wordings, knowledge.readerIndex?.lists.facts, ideas);
    const all = wordings.map((written) => phraseOf(written, ideas));
    const text =
      "Hair falls out in handfuls since the baby, 38.5 degrees last night. She can't move the skin over the bone. " +
      "Jaw tires on chewing; woke with a pounding head at the temples. Starved for weeks, periods stopped. " +
      "Beim Kauen wird der Kiefer müde. Le duele la sien. Bruises nobody can explain behind the ears.";
    let met = 0;
    for (const sentence of sentences(text)) {
      const stands = all.flatMap((phrase, i) => (matches(phrase, sentence, FILLERS).length > 0 ? [i] : []));
      met += stands.length;
      expect(list.near(sentence).map(([number]) => number)).toEqual(expect.arrayContaining(stands));
    }
    expect(met).toBeGreaterThan(5);
  });
});

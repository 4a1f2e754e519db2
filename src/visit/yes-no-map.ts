/** Answers to questions of the facts catalogue: names in any accepted spelling, each with yes or no. */

import type { FactId } from "../base/ids.js";
import { type Expectation, foundInWords } from "./expectation.js";
import { describedBy } from "./findings-map.js";
import { addTrouble, type Leaf, rawValue, readOne } from "./leaf.js";
import { readYesNo, YES_NO_JSON } from "./leaves.js";
import type { Vocabulary } from "./vocabulary.js";
import { wordPattern } from "./word-pattern.js";

/** One answer; `key` is the name as written. */
export interface AnswerLine {
  readonly key: string;
  readonly id: FactId;
  readonly yes: boolean;
}

/** A map from the words of one vocabulary to yes or no. */
export function yesNoMap(words: Vocabulary<FactId>): Leaf<AnswerLine[]> {
  const answer = { description: `yes or no, for ${words.what}.`, anyOf: [YES_NO_JSON(), { type: "null" }] };
  return rawValue(() => ({
    type: ["object", "null"],
    properties: describedBy(words, answer),
    ...(words.spellings.length > 0
      ? { propertyNames: { pattern: wordPattern(words.spellings) }, additionalProperties: answer }
      : { additionalProperties: false }),
  }))
    .transform((raw, ctx): AnswerLine[] | undefined => {
      if (raw === null || raw === undefined || raw === "") return undefined;
      if (typeof raw !== "object" || Array.isArray(raw)) {
        const message = `${foundInWords(raw)} where names with yes or no belong`;
        addTrouble(ctx, { problem: "wrong-shape", message, want: { kind: "map" } });
        return undefined;
      }
      const lines = new Map<string, AnswerLine>();
      for (const [key, value] of Object.entries(raw)) {
        const yes = readOne({ kind: "yes-no" }, readYesNo, value, ctx, [key]);
        const id = words.find(key);
        if (id === undefined) {
          const want: Expectation = { kind: "word", words };
          const message = `${foundInWords(key)} is not ${words.what}`;
          addTrouble(ctx, { problem: "unknown-word", message, want, onKey: true }, [key]);
          continue;
        }
        const before = lines.get(id);
        if (before && yes !== undefined && before.yes !== yes) {
          const message = `${foundInWords(key)} and ${foundInWords(before.key)} mean the same and have different answers`;
          addTrouble(ctx, { problem: "answer-twice", message, want: { kind: "yes-no" } }, [key]);
        } else if (yes !== undefined && !before) lines.set(id, { key, id, yes });
      }
      return [...lines.values()];
    })
    .optional();
}

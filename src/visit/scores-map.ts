/** Inputs of named scores: `{ lppai: { pruritus: 2 } }`, with the keys and ranges that knowledge/scores gives. */
import { z } from "zod";
import { type Expectation, foundInWords } from "./expectation.js";
import { addTrouble, type Json, type Leaf, rawValue, relayIssues, toJson } from "./leaf.js";
import { number } from "./leaves.js";
import type { VisitWords } from "./visit-words.js";
import { wordPattern } from "./word-pattern.js";

/** Score inputs as written; `key` is the name as spelled in the file. */
export interface ScoreLine {
  readonly key: string;
  readonly score: string;
  readonly inputs: Readonly<Record<string, number>>;
}

/** A map from score names to their inputs. */
export function scoresMap(words: VisitWords): Leaf<ScoreLine[]> {
  const shapes = Object.fromEntries(
    Object.entries(words.scoreInputs).map(([id, inputs]) => [id, inputsObject(inputs)]),
  );
  const map: Expectation = { kind: "map" };
  return rawValue(() => scoresJson(words, shapes))
    .transform((raw, ctx): ScoreLine[] | undefined => {
      if (raw === null || raw === undefined || raw === "") return undefined;
      if (typeof raw !== "object" || Array.isArray(raw)) {
        addTrouble(ctx, {
          problem: "wrong-shape",
          message: `${foundInWords(raw)} where scores belong`,
          want: map,
        });
        return undefined;
      }
      return Object.entries(raw).flatMap(([key, value]) => {
        const score = words.scores.find(key);
        const shape = score === undefined ? undefined : shapes[score];
        if (score === undefined || !shape) {
          const want: Expectation = { kind: "word", words: words.scores };
          const message = `${foundInWords(key)} is not a score`;
          addTrouble(ctx, { problem: "unknown-word", message, want, onKey: true }, [key]);
          return [];
        }
        if (value === null) return [];
        const parsed = shape.safeParse(value);
        if (!parsed.success) {
          relayIssues(ctx, parsed.error.issues, [key], Object.keys(shape.shape));
          return [];
        }
        const inputs: Record<string, number> = {};
        for (const [name, n] of Object.entries(parsed.data)) if (typeof n === "number") inputs[name] = n;
        return [{ key, score, inputs }];
      });
    })
    .optional();
}

function inputsObject(inputs: VisitWords["scoreInputs"][string]) {
  return z.strictObject(
    Object.fromEntries(
      Object.entries(inputs).map(([name, { min, max, whole, says }]) => [
        name,
        number(min, max, { whole }).describe(says),
      ]),
    ),
  );
}

function scoresJson(words: VisitWords, shapes: Record<string, z.ZodType>): Json {
  const scores = Object.entries(shapes).map(([id, shape]) => {
    const { properties } = toJson(shape);
    const pattern = wordPattern(
      words.scores.spellings.filter((spelling) => words.scores.find(spelling) === id),
    );
    return { id, pattern, json: { type: ["object", "null"], properties, additionalProperties: false } };
  });
  // A term is spelled in ways that only its pattern knows; the id itself is left to the properties.
  const spelled = scores.map(({ id, pattern, json }) => [pattern.replace("^", `^(?!${id}$)`), json] as const);
  return {
    type: ["object", "null"],
    properties: Object.fromEntries(scores.map(({ id, json }) => [id, json])),
    patternProperties: Object.fromEntries(spelled),
    additionalProperties: false,
  };
}

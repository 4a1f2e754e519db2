/** Recorded scores in a patient's words: a grade with its drawing, a distance or total as a line among the results. */
import { gradeDrawing } from "../diagram/diagram.js";
import type { Score } from "../knowledge/schema.js";
import type { Measured } from "../measure/types.js";
import type { FactsInput } from "./facts-input.js";
import { measureText, valueText } from "./measurements.js";
import type { LetterFacts } from "./variables.js";

interface PlainScore {
  readonly id: string;
  readonly name: string;
  readonly value: string;
  /** What this step of a grade means; empty where there are no steps. */
  readonly means: string;
  readonly drawing: string | undefined;
}

/** Scores of the visit that have patient words; none while a name is kept for a talk, since a scale tells the name. */
function plainScores({ visit, knowledge, words, measures }: FactsInput): PlainScore[] {
  if (visit.impression.some((i) => i.inHandout === false)) return [];
  return Object.entries(visit.scores).flatMap(([key, inputs]) => {
    const score = knowledge.scores[key.replaceAll("_", "-")];
    if (!score) return [];
    const made = measures.measured.filter((m) => m.id === score.id || m.id.startsWith(`${score.id}-`));
    return wordsOf(score).flatMap(({ name, choices, instead, input }): PlainScore[] => {
      const m = made.find((x) => x.id === score.id) ?? made.find((x) => x.id === idOf(score, input));
      if (!m) return [];
      const other = Object.entries(instead ?? {}).map(([id, texts]) => texts[String(inputs[id])]);
      const chosen = other.find(Boolean) ?? choices?.[String(inputs[input])];
      return [
        {
          id: score.id,
          name: measureText(words, name),
          value: plainValue(input, m, words),
          means: chosen ? measureText(words, chosen) : "",
          drawing: gradeDrawing(score.id, inputs, measureText(words, name)),
        },
      ];
    });
  });
}

const idOf = ({ id }: Score, input: string) => `${id}-${input.replaceAll("_", "-")}`;

/** A number out of a whole goes without its whole where the name already says it, as `from 0 to 72` does. */
function plainValue(input: string, m: Measured, words: FactsInput["words"]): string {
  return input === "" ? valueText(words, { ...m, unit: "" }) : valueText(words, m);
}

function wordsOf(score: Score) {
  const recorded = Object.entries(score.recorded ?? {}).flatMap(([input, { plain }]) =>
    plain ? [{ input, ...plain }] : [],
  );
  return score.plain
    ? [...recorded, { input: "", name: score.plain, choices: undefined, instead: undefined }]
    : recorded;
}

/** Grades that have a drawing, for the handout's pictures. */
export function picturedGrades(input: FactsInput): LetterFacts["pictured"] {
  return plainScores(input).flatMap(({ id, name, value, means, drawing }) =>
    drawing ? [{ id, drawing: `grade:${id}`, name, amount: value, means }] : [],
  );
}

/** The rest, as lines among the results. */
export function scoreLines(input: FactsInput): LetterFacts["resultsPlain"] {
  return plainScores(input).flatMap(({ name, value, means, drawing }) =>
    drawing
      ? []
      : [{ says: `${name}: ${value}${means ? `. ${means.replace(/\.$/u, "")}` : ""}`, flag: "", within: "" }],
  );
}

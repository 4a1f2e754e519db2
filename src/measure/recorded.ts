/** Scores that are recorded as they stand: a grade, a distance, a total. Their knowledge file is all there is to them. */
import { z } from "zod";
import type { Score } from "../knowledge/schema.js";
import { type Collected, type MeasuredDraft, recordedInputs, type ScoreModule } from "./score-module.js";

type Inputs = Readonly<Record<string, number>>;

/** The module of a score that is recorded; undefined for one that is worked out. */
export function recordedModule({ id, recorded, examples = [] }: Score): ScoreModule<Inputs> | undefined {
  if (!recorded) return undefined;
  return {
    id,
    table: z.object({ recorded: z.unknown(), examples: z.unknown() }),
    collect(visit): readonly Collected<Inputs>[] {
      const inputs = recordedInputs(visit, id);
      return inputs ? [{ inputs }] : [];
    },
    compute: (inputs, _table, score) => ({ measured: recordedMeasures(inputs, score) }),
    examples,
  };
}

function recordedMeasures(inputs: Inputs, score: Score): MeasuredDraft[] {
  const recorded = Object.entries(score.recorded ?? {});
  return recorded.flatMap(([key, { term, unit, ucum, places, real_from }]) => {
    const value = inputs[key];
    if (value === undefined) return [];
    const band = bandOf(inputs, key, score);
    return [
      {
        id: recorded.length === 1 ? score.id : `${score.id}-${key.replaceAll("_", "-")}`,
        term: term ?? score.term,
        value,
        unit,
        ucum,
        places,
        ...(band ? { band } : {}),
        ...(real_from === undefined ? {} : { counted: { kind: "reading", value, realFrom: real_from } }),
      },
    ];
  });
}

/** The words of the choice made, with those of other choices that describe it further. */
function bandOf(inputs: Inputs, key: string, { inputs: asked, recorded }: Score): string {
  const further = Object.keys(asked).filter(
    (other) => other !== key && !recorded?.[other] && asked[other]?.choices,
  );
  const says = [key, ...further].flatMap((k) => {
    const value = inputs[k];
    // A choice of 0 is the usual form and goes without saying.
    return value === undefined || (k !== key && value === 0)
      ? []
      : (asked[k]?.choices?.[String(value)] ?? []);
  });
  return says.join("; ");
}

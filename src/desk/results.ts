/** What the scores of a visit come to, as the form shows beside their inputs. */
import type { Knowledge } from "../knowledge/schema.js";
import type { Measures } from "../measure/types.js";

/** By score id: each result, or what is still missing for one. */
export function scoreResults(
  { measured, rules, notMeasured }: Measures,
  knowledge: Knowledge,
): Record<string, string[]> {
  const scores = Object.values(knowledge.scores).filter(({ inputs }) => Object.keys(inputs).length > 0);
  return Object.fromEntries(
    scores.flatMap(({ id }) => {
      const isOf = (other: { readonly id: string }) => other.id === id || other.id.startsWith(`${id}-`);
      const says = [
        ...measured.filter(isOf).map(({ term, value, places, unit, low, high }) => {
          const range =
            low === undefined || high === undefined
              ? ""
              : ` (95 % ${low.toFixed(places)} to ${high.toFixed(places)})`;
          return `${term}: ${value.toFixed(places)}${unit ? ` ${unit}` : ""}${range}`;
        }),
        ...rules.filter(isOf).map((rule) => rule.says),
        ...notMeasured.filter(isOf).map(({ missing }) => `not worked out: ${missing}`),
      ];
      return says.length > 0 ? [[id, says]] : [];
    }),
  );
}

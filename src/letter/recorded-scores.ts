/** Answers a clinician recorded for named scores, each in words: what goes into a score is printed as it was written. */
import type { Knowledge, Score } from "../knowledge/schema.js";
import type { RuleResult } from "../measure/types.js";
import type { Visit } from "../visit/visit.js";
import { measureText } from "./measurements.js";
import { type Words, writeRecorded } from "./phrases.js";
import type { LetterFacts } from "./variables.js";

export function recordedScores(
  words: Words,
  knowledge: Knowledge,
  scores: Visit["scores"],
  rules: readonly RuleResult[],
): LetterFacts["recordedScores"] {
  return Object.entries(scores).flatMap(([key, answers]) => {
    const id = key.replaceAll("_", "-");
    const score = knowledge.scores[id];
    // What is a measure as it stands is printed among the measures.
    const recorded = Object.entries(answers).filter(([name]) => !score?.recorded?.[name]);
    const said = recorded.map(([name, value]) => answerText(words, name, value, score?.inputs[name]));
    const term = words.measures[id] ?? measureText(words, score?.term ?? key);
    const rule = rules.find((r) => r.id === id);
    const met = rule && (words.phrases[metWord(rule.met)] ?? "");
    return said.length > 0 ? [{ term, answers: said, result: met ?? "" }] : [];
  });
}

/** Phrase for a published rule worked through. */
export function metWord(met: boolean | null): "met" | "not_met" | "not_assessable" {
  return met === null ? "not_assessable" : met ? "met" : "not_met";
}

/** `itch 2/3`, `biopsy in keeping: yes`, `hair loss: spreading`, `anagen hairs: 70` */
function answerText(words: Words, name: string, value: number, input: Score["inputs"][string] | undefined) {
  const says = input?.says ?? name;
  const label = measureText(words, says.replace(/(?: from 0 | \(1 |: 0 ).*$/u, ""));
  const number = writeRecorded(words, value);
  const choice = wordFor(says, value);
  if (choice) return `${label}: ${measureText(words, choice)}`;
  if (input?.min === 0 && input.max === 1) return `${label}: ${value > 0 ? words.yes : words.no}`;
  return / from 0 /u.test(says) ? `${label} ${number}/${input?.max}` : `${label}: ${number}`;
}

/** The word a score gives to a value, as `0 stable, 1 unclear, 2 spreading` does; not for plain yes and no. */
function wordFor(says: string, value: number): string | undefined {
  const choices = /(?: \(1 |: 0 ).*$/u.exec(says)?.[0] ?? "";
  const word = new RegExp(`(?<!\\d)${value} (\\p{L}+)`, "u").exec(choices)?.[1];
  return word === "yes" || word === "no" ? undefined : word;
}

/** Change since the last visit as one short paragraph: what surely changed first, what did not in one line. */

import { fill } from "../base/text.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { FindingChange, MeasureChange, Step } from "../measure/change/types.js";
import { measureText, shortName } from "./measurements.js";
import { capital, list, type Words, writeDate, writeNumber } from "./phrases.js";

/** Measures a reader is told of, besides the scores that are recorded as they stand. */
const WORTH_TELLING = [
  "salt-score",
  "pssi",
  "activity-signs",
  "hair-density",
  "thin-share",
  "vellus-share",
  "single-unit-share",
  "shaft-diameter",
  "hair-pull",
];
/** A reader takes in no more sure changes than this. Common practice, no source. */
const MOST_SURE = 4;

/** Those of the measures that a reader is told of, in order; what was recorded as it stands comes first. */
export function worthTelling<T extends { readonly id: string }>(
  knowledge: Knowledge,
  measures: readonly T[],
): T[] {
  const scores = Object.values(knowledge.scores).filter((score) => score.recorded);
  const recorded = measures.filter(({ id }) => scores.some((s) => id === s.id || id.startsWith(`${s.id}-`)));
  return [...recorded, ...WORTH_TELLING.flatMap((id) => measures.filter((m) => m.id === id))];
}

export function changeText(words: Words, knowledge: Knowledge, step: Step): string {
  const measures = worthTelling(knowledge, step.measures);
  const named = (of: readonly MeasureChange[]) => list(words, names(words, of, measures));
  const shifts = (of: readonly MeasureChange[]) => of.map((m) => shift(words, m)).join("; ");
  const sure = measures.filter(isSure).sort(surestFirst).slice(0, MOST_SURE);
  const byEye = measures.filter((m) => m.verdict === null && shows(words, m));
  const say = (key: string, text: string) => (text ? [fill(words.change[key] ?? "", { list: text })] : []);
  const parts = [
    ...findingParts(words, knowledge, step.findings),
    ...say("beyond_error", shifts(sure.filter((m) => m.verdict === "more than counting error"))),
    ...say("beyond_reading", shifts(sure.filter((m) => m.verdict === "more than measuring error"))),
    ...say("judged_by_eye", shifts(byEye)),
    ...say("steady", named(measures.filter((m) => m.verdict && !isSure(m) && !hasTooFewFields(m)))),
    ...say("too_few_fields", named(measures.filter(hasTooFewFields))),
  ];
  const said = parts.length > 0 ? parts : [words.change.nothing ?? ""];
  return said.map((part) => `${capital(part)}.`).join(" ");
}

/** `Change since 12 March 2026:` */
export function changeSince(words: Words, step: Step): string {
  return fill(words.change.since ?? "", { date: writeDate(words, step.from.date) });
}

/** What appeared, went, grew or shrank, each told of the site where it did. */
function findingParts(words: Words, knowledge: Knowledge, findings: readonly FindingChange[]): string[] {
  const sites = [...new Set(findings.map((f) => f.site ?? ""))];
  return sites.flatMap((site) => {
    const here = findings.filter((f) => (f.site ?? "") === site);
    const changes = (["appeared", "went", "grew", "shrank"] as const).flatMap((kind) => {
      const terms = here
        .filter((f) => f.kind === kind)
        .map((f) => knowledge.findings[f.finding]?.term ?? f.finding);
      return terms.length > 0
        ? [fill(words.change[kind] ?? "", { list: list(words, [...new Set(terms)]) })]
        : [];
    });
    if (changes.length === 0) return [];
    const said = changes.join("; ");
    return site && sites.length > 1
      ? [fill(words.change.at_site ?? "", { site: words.regions[site] ?? site, changes: said })]
      : [said];
  });
}

/** `hair density (occipital) 64 to 137 per cm²` */
function shift(words: Words, m: MeasureChange): string {
  return fill(words.change.shift ?? "", {
    term: shortName(words, m.id, m.term),
    place: m.site ? at(words, m.site) : "",
    before: writeNumber(words, m.before.value, m.places),
    after: writeNumber(words, m.after.value, m.places),
    unit: unitInSentence(words, measureText(words, m.unit)),
  });
}

/** Each measure once, however many sites; with its site where it did otherwise at another. */
function names(words: Words, measures: readonly MeasureChange[], all: readonly MeasureChange[]): string[] {
  const isMixed = ({ id }: MeasureChange) => all.some((m) => m.id === id && !measures.includes(m));
  return [
    ...new Set(
      measures.map(
        (m) => `${shortName(words, m.id, m.term)}${m.site && isMixed(m) ? at(words, m.site) : ""}`,
      ),
    ),
  ];
}

/** ` (vertex)` */
const at = (words: Words, site: string) => fill(words.change.at ?? "", { site: words.regions[site] ?? site });

/** Sure changes first, then what changed by eye, then what shows none; otherwise in the order given. */
export function surestOnTop(measures: readonly MeasureChange[]): MeasureChange[] {
  const rank = (m: MeasureChange) => (isSure(m) ? 0 : m.verdict === null && m.direction !== "same" ? 1 : 2);
  return [...measures].sort((a, b) => rank(a) - rank(b) || (rank(a) === 0 ? surestFirst(a, b) : 0));
}

const hasTooFewFields = (m: MeasureChange) => m.verdict === "too few fields to tell";

function isSure(m: MeasureChange): boolean {
  return m.verdict?.startsWith("more than") === true;
}

/** The least likely to be chance first; readings, which have no chance, after them in the order given. */
const surestFirst = (a: MeasureChange, b: MeasureChange) => (a.p ?? 1) - (b.p ?? 1);

/** False for a change that rounds to nothing as printed. */
function shows(words: Words, m: MeasureChange): boolean {
  return writeNumber(words, m.before.value, m.places) !== writeNumber(words, m.after.value, m.places);
}

/** A unit that begins with a stroke would be parted at a line's end, so a sentence says it in words. */
function unitInSentence(words: Words, unit: string): string {
  if (!unit) return "";
  return unit.startsWith("/") ? fill(words.change.per ?? "", { unit: unit.slice(1) }) : `\u00a0${unit}`;
}

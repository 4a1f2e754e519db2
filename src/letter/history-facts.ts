/** History, scope and tests in words. */

import type { FactId } from "../base/ids.js";
import { foldWord } from "../base/nearest.js";
import { fill } from "../base/text.js";
import type { Knowledge } from "../knowledge/schema.js";
import { camelCase } from "../visit/key.js";
import { VISIT_KEYS } from "../visit/keys.js";
import { figureOf, rangeOf, sideOf } from "../visit/test-figure.js";
import type { Answers, Began, Medicine, Scope, Visit } from "../visit/visit.js";
import { rangeText } from "./measurements.js";
import { list, type Words, wordIn, writeDate, writeDuration, writeRecorded } from "./phrases.js";
import type { LetterFacts } from "./variables.js";

/** Lists of the history that are more than a line of short texts, or stand elsewhere in the letter. */
const APART = new Set(["medicines", "exposures", "allergies"]);
/** Lists of short texts, in the order of the visit's keys: each a line with its label. */
const LISTED = VISIT_KEYS.flatMap(({ path }) => /^history\.([a-z_]+)$/u.exec(path)?.[1] ?? []).filter(
  (key) => !APART.has(key),
);

export function historyFacts(words: Words, knowledge: Knowledge, visit: Visit): LetterFacts["history"] {
  const h = visit.history;
  const labels = words.history;
  const { pregnancy } = visit.patient;
  const lines: { label: string; text: string }[] = [];
  const add = (key: string, items: readonly string[]) => {
    if (items.length > 0) lines.push({ label: labels[key] ?? key, text: itemsText(words, items) });
  };
  if (h.began) add("began", [beganText(words, h.began)]);
  for (const key of LISTED) {
    const texts: unknown = h[camelCase(key) as keyof typeof h];
    if (Array.isArray(texts)) add(key, texts);
  }
  add("exposures", factTerms(knowledge, h.exposures ?? []));
  add("answered_yes", factTerms(knowledge, answered(visit.asked, true)));
  add("answered_no", factTerms(knowledge, answered(visit.asked, false)));
  if (visit.patient.ancestry) add("ancestry", [visit.patient.ancestry]);
  if (visit.patient.phototype) add("phototype", [visit.patient.phototype]);
  add(
    "pull_test",
    visit.pullTest.map((p) =>
      fill((p.anagen === undefined ? words.phrases.pulled : words.phrases.pulled_anagen) ?? "", {
        site: words.regions[p.site] ?? p.site,
        out: p.cameOut,
        pulled: p.pulled,
        anagen: p.anagen ?? 0,
      }),
    ),
  );
  return {
    duration: h.durationWeeks === undefined ? "" : writeDuration(words, h.durationWeeks),
    onsetCourse: [
      ...(h.onset ? [words.onset[h.onset] ?? h.onset] : []),
      ...(h.course ? [words.course[h.course] ?? h.course] : []),
      ...(h.shedding ? [words.shedding[h.shedding] ?? h.shedding] : []),
    ],
    ...symptomFacts(words, h.symptoms),
    medicines: itemsText(
      words,
      h.medicines.map((m) => medicineText(words, m)),
    ),
    allergies: itemsText(words, h.allergies),
    pregnancy: pregnancy ? (words.pregnancy[pregnancy] ?? pregnancy) : "",
    notes: h.notes ?? "",
    lines,
  };
}

/** A list as typed; that there is nothing to list, as the language says it. */
function itemsText(words: Words, items: readonly string[]): string {
  const nothing = { none: words.list.none, "none known": words.phrases.none_known ?? "none known" };
  const only = items.length === 1 ? wordIn(nothing, foldWord(items[0] ?? "")) : undefined;
  return only ?? list(words, items);
}

/** Scores as recorded; where all are nought, that there was none of them. */
function symptomFacts(
  words: Words,
  symptoms: Visit["history"]["symptoms"],
): Pick<LetterFacts["history"], "symptoms" | "noSymptoms"> {
  const scored = Object.entries(symptoms).flatMap(([name, score]) =>
    score === undefined ? [] : [{ name: words.symptoms[name] ?? name, score }],
  );
  const none = scored.every(({ score }) => score === 0);
  return {
    symptoms: none ? [] : scored.map(({ name, score }) => `${name}\u00a0${writeRecorded(words, score)}`),
    noSymptoms: none
      ? scored
          .map(({ name }) => fill(words.phrases.no_symptom ?? "", { symptom: name }))
          .join(words.list.comma)
      : "",
  };
}

/** The trade terms of facts of the catalogue. */
export function factTerms(knowledge: Knowledge, ids: readonly FactId[]): string[] {
  return ids.map((id) => knowledge.facts[id]?.term ?? id);
}

/** Facts answered one way, in the order recorded. */
export function answered(answers: Answers | undefined, way: boolean): string[] {
  return Object.entries(answers ?? {}).flatMap(([id, said]) => (said === way ? [id] : []));
}

/** `azathioprine (for eczema; started 3 weeks ago)` */
function medicineText(words: Words, medicine: Medicine): string {
  const p = words.phrases;
  const ago = (weeks: number) => writeDuration(words, weeks, true);
  const aside = [
    ...(medicine.for ? [fill(p.medicine_for ?? "", { what: medicine.for })] : []),
    ...(medicine.sinceWeeks === undefined
      ? []
      : [fill(p.medicine_since ?? "", { duration: ago(medicine.sinceWeeks) })]),
    ...(medicine.stoppedWeeks === undefined
      ? []
      : [fill(p.medicine_stopped ?? "", { duration: ago(medicine.stoppedWeeks) })]),
  ];
  return aside.length > 0 ? `${medicine.name} (${aside.join("; ")})` : medicine.name;
}

function beganText(words: Words, began: Began): string {
  const p = words.phrases;
  if (began.weeksBefore !== undefined)
    return fill(p.began_before ?? "", { duration: writeDuration(words, began.weeksBefore, true) });
  if (began.ageYears !== undefined)
    return fill(p.began_age ?? "", { years: writeRecorded(words, began.ageYears) });
  return p.began_birth ?? "";
}

/** What was looked at beyond the dermoscope: patterns and signs of the catalogue, then free words. */
export function examinationFacts(
  words: Words,
  knowledge: Knowledge,
  visit: Visit,
): LetterFacts["examination"] {
  const { pattern, signs, ...prose } = visit.examination;
  const row = (key: string, items: readonly string[]) =>
    items.length > 0 ? [{ label: words.examination[key] ?? key, text: list(words, items) }] : [];
  return [
    ...row("pattern", factTerms(knowledge, pattern ?? [])),
    ...row("signs", factTerms(knowledge, answered(signs, true))),
    ...row("no_signs", factTerms(knowledge, answered(signs, false))),
    ...Object.entries(prose).flatMap(([key, text]) => (text ? row(key, [text.replace(/\.$/u, "")]) : [])),
  ];
}

/** `at 20-fold magnification, polarised light, dry, field 11 mm across`; empty when nothing was recorded. */
export function scopeText(words: Words, scope: Scope): string {
  const p = words.phrases;
  const parts: string[] = [];
  if (scope.magnification !== undefined)
    parts.push(fill(p.magnification ?? "", { n: writeRecorded(words, scope.magnification) }));
  if (scope.light) parts.push(words.light[scope.light] ?? scope.light);
  if (scope.contact) parts.push(words.contact[scope.contact] ?? scope.contact);
  if (scope.fieldDiameterMm !== undefined)
    parts.push(fill(p.field ?? "", { n: writeRecorded(words, scope.fieldDiameterMm) }));
  return parts.join(", ");
}

/** `ferritin 18 µg/L (range 30 to 200; 1 March 2026)`, flagged when the figure lies outside the laboratory's own range. */
/** A result that an earlier letter awaited. */
export interface CameSinceLetter {
  readonly test: Visit["tests"][number];
  /** ISO day of that letter. */
  readonly letter: string;
}

/** `inOneSentence`: tests of one day that stand together tell it once, at the end. */
export function testFacts(
  words: Words,
  visit: Visit,
  {
    since = [],
    inOneSentence = false,
  }: { readonly since?: readonly CameSinceLetter[]; readonly inOneSentence?: boolean } = {},
): LetterFacts["tests"] {
  const p = words.phrases;
  return visit.tests.map((t, i) => {
    const before = visit.tests.slice(0, i).toReversed();
    const same = before.findIndex(({ date }) => date !== t.date);
    const run = 1 + (same === -1 ? before.length : same);
    const isToldLater = inOneSentence && visit.tests[i + 1]?.date === t.date;
    const date = t.date === undefined || isToldLater ? "" : writeDate(words, t.date);
    const value =
      t.value === undefined
        ? ""
        : ` ${writeRecorded(words, t.value)}${t.unit ? `\u00a0${t.unit.replace(/^u(?=(?:g|mol|kat)\b)/u, "µ")}` : ""}`;
    const said = /^(?:awaited|pending)$/iu.test(t.result ?? "") ? p.test_awaited : t.result;
    const result = said ? `${value ? "," : ":"} ${said}` : "";
    const range = t.range ? rangeText(words, t.range) : "";
    const aside = [
      ...(range ? [fill(p.test_range ?? "", { range })] : []),
      ...(date === ""
        ? []
        : [run === 1 || !inOneSentence ? date : fill(p.tests_of_one_day ?? "{date}", { date })]),
      ...since
        .filter(({ test }) => test.name === t.name && test.result === t.result && test.value === t.value)
        .map(({ letter }) => fill(p.test_awaited_in ?? "", { date: writeDate(words, letter) })),
    ];
    return {
      says: withAside(`${t.name}${value}${result}`, aside),
      flag: outside(words, t),
      within: t.value !== undefined && t.range && !outside(words, t) ? (p.within_range ?? "") : "",
    };
  });
}

/** What is said of a result beside it, in one bracket with what was typed in one. */
function withAside(said: string, aside: readonly string[]): string {
  if (aside.length === 0) return said;
  const typed = /^(.*) \(([^()]+)\)$/su.exec(said);
  const [before, inside] = typed ? [typed[1], [typed[2], ...aside]] : [said, aside];
  return `${before} (${inside.join("; ")})`;
}

/** Said of a figure beside its range; what a result tells in its own words is not said twice. */
function outside(words: Words, test: Visit["tests"][number]): string {
  const { low, high } = rangeOf(test);
  const side = figureOf(test) === undefined || (low ?? high) === undefined ? undefined : sideOf(test);
  if (side === "low") return words.phrases.below_range ?? "";
  return side === "high" ? (words.phrases.above_range ?? "") : "";
}

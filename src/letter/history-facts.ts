/** History, scope and tests in words. */
import type { Scope, Visit } from "../visit/visit.js";
import { rangeText } from "./measurements.js";
import type { LetterFacts } from "./variables.js";
import { fill, list, type Words, writeDate, writeDuration, writeRecorded } from "./words.js";

export function historyFacts(words: Words, visit: Visit): LetterFacts["history"] {
  const h = visit.history;
  const labels = words.history;
  const lines: { label: string; text: string }[] = [];
  const add = (key: string, items: readonly string[]) => {
    if (items.length > 0) lines.push({ label: labels[key] ?? key, text: list(words, items) });
  };
  add("family", h.family);
  add("past", h.past);
  add("triggers", h.triggers);
  add("hair_care", h.hairCare);
  add("contacts", h.contacts);
  if (visit.patient.ancestry) add("ancestry", [visit.patient.ancestry]);
  if (visit.patient.phototype) add("phototype", [visit.patient.phototype]);
  const pregnancy = visit.patient.pregnancy;
  if (pregnancy) add("pregnancy", [words.pregnancy[pregnancy] ?? pregnancy]);
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
    symptoms: Object.entries(h.symptoms).flatMap(([name, score]) =>
      score === undefined ? [] : [`${words.symptoms[name] ?? name} ${writeRecorded(words, score)}`],
    ),
    medicines: list(words, h.medicines),
    allergies: list(words, h.allergies),
    notes: h.notes ?? "",
    lines,
  };
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
export function testFacts(words: Words, visit: Visit): LetterFacts["tests"] {
  const p = words.phrases;
  return visit.tests.map((t) => {
    const value =
      t.value === undefined
        ? ""
        : ` ${writeRecorded(words, t.value)}${t.unit ? `\u00a0${t.unit.replace(/^ug\b/u, "µg")}` : ""}`;
    const said = /^(?:awaited|pending)$/iu.test(t.result ?? "") ? p.test_awaited : t.result;
    const result = said ? `${value ? "," : ":"} ${said}` : "";
    const range = t.range ? rangeText(words, t.range) : "";
    const aside = [
      ...(range ? [fill(p.test_range ?? "", { range })] : []),
      ...(t.date ? [writeDate(words, t.date)] : []),
    ];
    return {
      says: `${t.name}${value}${result}${aside.length > 0 ? ` (${aside.join("; ")})` : ""}`,
      flag: outside(words, t),
    };
  });
}

function outside(words: Words, { value, range }: Visit["tests"][number]): string {
  if (value === undefined || !range) return "";
  if (range.low !== undefined && value < range.low) return words.phrases.below_range ?? "";
  return range.high !== undefined && value > range.high ? (words.phrases.above_range ?? "") : "";
}

/** History, scope and tests in words. */
import type { Scope, Visit } from "../visit/visit.js";
import { fill, list, type Words, writeDate, writeDuration, writeNumber } from "./words.js";

export interface HistoryFacts {
  readonly duration: string;
  readonly onsetCourse: readonly string[];
  readonly symptoms: readonly string[];
  readonly notes: string;
  readonly lines: readonly { readonly label: string; readonly text: string }[];
}

export function historyFacts(words: Words, visit: Visit): HistoryFacts {
  const h = visit.history;
  const labels = words.history;
  const lines: { label: string; text: string }[] = [];
  const add = (key: string, items: readonly string[]) => {
    if (items.length > 0) lines.push({ label: labels[key] ?? key, text: list(words, items) });
  };
  add("family", h.family);
  add("past", h.past);
  add(
    "medicines",
    h.medicines.map((m) => m.name),
  );
  add("allergies", h.allergies);
  add("triggers", h.triggers);
  add("hair_care", h.hairCare);
  add("contacts", h.contacts);
  if (visit.patient.phototype) add("phototype", [visit.patient.phototype]);
  const pregnancy = visit.patient.pregnancy;
  if (pregnancy && pregnancy !== "no") add("pregnancy", [words.pregnancy[pregnancy] ?? pregnancy]);
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
      score === undefined ? [] : [`${words.symptoms[name] ?? name} ${writeNumber(words, score)}`],
    ),
    notes: h.notes ?? "",
    lines,
  };
}

/** `at 20-fold magnification, polarised light, dry, field 11 mm across`; empty when nothing was recorded. */
export function scopeText(words: Words, scope: Scope): string {
  const p = words.phrases;
  const parts: string[] = [];
  if (scope.magnification !== undefined) parts.push(fill(p.magnification ?? "", { n: scope.magnification }));
  if (scope.light) parts.push(words.light[scope.light] ?? scope.light);
  if (scope.contact) parts.push(words.contact[scope.contact] ?? scope.contact);
  if (scope.fieldDiameterMm !== undefined) parts.push(fill(p.field ?? "", { n: scope.fieldDiameterMm }));
  return parts.join(", ");
}

/** `ferritin 18 ug/L (1 March 2026)` */
export function testTexts(words: Words, visit: Visit): string[] {
  return visit.tests.map((t) => {
    const value =
      t.value === undefined
        ? ""
        : ` ${String(t.value).replace(".", words.decimal)}${t.unit ? `\u00a0${t.unit.replace(/^ug\b/u, "µg")}` : ""}`;
    const said = /^(?:awaited|pending)$/iu.test(t.result ?? "") ? words.phrases.test_awaited : t.result;
    const result = said ? `${value ? "," : ":"} ${said}` : "";
    return `${t.name}${value}${result}${t.date ? ` (${writeDate(words, t.date)})` : ""}`;
  });
}

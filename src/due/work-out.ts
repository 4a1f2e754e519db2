/** Lines of work -> JSON and CSV for other programs. */
import { csvText } from "../base/csv.js";
import { daysBetween } from "../visit/calendar.js";
import type { WorkLine } from "./work-line.js";

/** Snake case, as everywhere; `path` as the caller wants it shown. */
export function workJson(line: WorkLine, today: string, path: (file: string) => string): object {
  const { kind, urgency, due, what, who, patient, visit, since, by } = line;
  return {
    kind,
    urgency,
    due,
    what,
    who,
    patient,
    visit,
    file: path(line.path),
    since,
    by,
    days: daysBetween(since, today),
  };
}

const COLUMNS = [
  "kind",
  "urgency",
  "due",
  "what",
  "who",
  "patient",
  "name",
  "visit",
  "since",
  "by",
  "days",
  "file",
] as const;

export function workCsv(lines: readonly WorkLine[], today: string, path: (file: string) => string): string {
  return csvText([
    COLUMNS,
    ...lines.map((l) => [
      l.kind,
      l.urgency ?? "",
      l.due ? "yes" : "no",
      l.what,
      l.who,
      l.patient.id,
      l.patient.name,
      l.visit,
      l.since,
      l.by ?? "",
      daysBetween(l.since, today),
      path(l.path),
    ]),
  ]);
}

/** Lines of work -> the facts of the sheet that a clinic prints of them. */
import type { Knowledge } from "../knowledge/schema.js";
import { daysBetween } from "../visit/calendar.js";
import type { WorkLine } from "./work-line.js";

export interface WorkSheetInput {
  readonly lines: readonly WorkLine[];
  readonly today: string;
  /** How many visits were read. */
  readonly visits: number;
  readonly hasRegister: boolean;
  /** The knowledge in the language of a sheet that is not English. */
  readonly local?: Knowledge;
}

/** What the template `open-work` prints, in the groups of the order. */
export function workSheetFacts({ lines, today, visits, hasRegister, local }: WorkSheetInput) {
  const groups: { id: string; lines: object[] }[] = [];
  for (const line of lines) {
    const id = line.urgency ?? (line.due ? "due" : "waits");
    if (groups.at(-1)?.id !== id) groups.push({ id, lines: [] });
    groups.at(-1)?.lines.push(factsOf(local ? inTheirWords(line, local) : line, today));
  }
  return { today, visits, hasRegister, groups, total: lines.length, due: lines.filter((l) => l.due).length };
}

const OURS = "the clinic";

/** A safety line or a question in the sentences of its language. */
function inTheirWords(line: WorkLine, { cautions, facts }: Knowledge): WorkLine {
  if (line.kind === "not-asked") return { ...line, detail: facts[line.of]?.question ?? line.detail };
  if (line.kind !== "must-not-miss") return line;
  const safety = Object.values(cautions).find((c) => c.must_not_miss?.id === line.of)?.must_not_miss;
  return safety ? { ...line, detail: safety.why, who: safety.who } : line;
}

function factsOf({ kind, patient, visit, since, by, who, detail, edition }: WorkLine, today: string) {
  return {
    kind,
    patient: patient.id,
    name: patient.name,
    visit,
    since,
    weeks: daysBetween(since, today) / 7,
    by: by ?? "",
    late: by !== null && by < today,
    // Whoever sees the patient asks; that need not stand in every row.
    who: kind === "not-asked" || who === OURS ? "" : who,
    ours: who === OURS,
    detail,
    edition,
  };
}

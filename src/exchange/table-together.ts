/** What only several rows show: one visit number twice, and one patient number with two birthdays or names. */
import type { ProblemId } from "../base/problem-table.js";
import type { RowProblem, TableVisit } from "./table-visit.js";

/** The visits with the problems between them added; a visit with a new error loses its text. */
export function checkAcrossRows(rows: readonly TableVisit[]): TableVisit[] {
  const visits = new Map<string, number>();
  const patients = new Map<string, { born: string; name: string; row: number }>();
  return rows.map((entry) => {
    const { visit, row } = entry;
    if (!visit) return entry;
    const problems: RowProblem[] = [];
    const report = (id: ProblemId, message: string) => problems.push({ severity: "error", id, message, row });
    const twin = visits.get(visit.id);
    if (twin === undefined) visits.set(visit.id, row);
    else report("visit-twice", `visit ${visit.id} stands in row ${twin} already`);
    const { id, born, name } = visit.patient;
    const whole = `${name.given} ${name.family}`.trim();
    const known = patients.get(id);
    if (!known) patients.set(id, { born, name: whole, row });
    else if (known.born !== born)
      report(
        "patient-mixed",
        `patient ${id} was born on ${born} here and on ${known.born} in row ${known.row}`,
      );
    else if (known.name !== whole)
      report("patient-mixed", `patient ${id} has another name in row ${known.row}`);
    return problems.length === 0 ? entry : { row, problems: [...entry.problems, ...problems] };
  });
}

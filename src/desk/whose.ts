/** Whether a visit agrees with the others of the folder on who the patient is: one number one person, one person one number. */
import type { Problem } from "../base/problem.js";

/** What names a visit and its patient, as written. */
export interface Whose {
  readonly file: string;
  readonly visit: string;
  readonly patient: string;
  readonly given: string;
  readonly family: string;
  readonly born: string;
  readonly sex: string;
}

const fold = (text: string): string =>
  text
    .normalize("NFKD")
    .replace(/[\p{M}\p{Cf}\s'’.-]+/gu, "")
    .toLowerCase();
const PARTS = { given: "given name", family: "family name", born: "date of birth", sex: "sex" } as const;
type Part = keyof typeof PARTS;

/** Errors unless accepted with a reason; a visit number is never shared. */
export function whoseProblems(
  mine: Whose,
  others: readonly Whose[],
  accepts: ReadonlySet<string>,
): Problem[] {
  const rest = others.filter(({ file }) => file !== mine.file);
  const problems: Problem[] = [];
  const report = (id: string, path: string, message: string, expected: string) => {
    if (!accepts.has(id)) problems.push({ severity: "error", id, message, path, expected });
  };
  const same = rest.find(({ visit }) => mine.visit !== "" && fold(visit) === fold(mine.visit));
  if (same)
    problems.push({
      severity: "error",
      id: "visit-id-twice",
      message: `the visit number ${mine.visit} is taken by ${same.file}`,
      path: "visit.id",
      expected: "a number of its own",
    });
  for (const other of rest.filter(
    ({ patient }) => mine.patient !== "" && fold(patient) === fold(mine.patient),
  )) {
    const parts = (Object.keys(PARTS) as Part[]).filter((part) => differ(mine[part], other[part]));
    if (parts.length === 0) continue;
    const unlike = parts.map((part) => `${PARTS[part]} ${other[part]}, not ${mine[part]}`).join("; ");
    report(
      "patient-id-shared",
      "patient.id",
      `${other.file} has this patient number for somebody else: ${unlike}`,
      "find out whose number it is",
    );
    break;
  }
  const twin = rest.find(
    (other) =>
      mine.born !== "" &&
      mine.born === other.born &&
      fold(mine.family) !== "" &&
      fold(mine.given + mine.family) === fold(other.given + other.family) &&
      fold(mine.patient) !== fold(other.patient),
  );
  if (twin)
    report(
      "patient-under-two-numbers",
      "patient.id",
      `${twin.file} has the same name and date of birth under the number ${twin.patient}`,
      "one number for one patient",
    );
  return problems;
}

/** What one of two visits leaves out is no difference. */
const differ = (a: string, b: string): boolean => a !== "" && b !== "" && fold(a) !== fold(b);

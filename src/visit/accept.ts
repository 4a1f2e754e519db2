/** Messages the clinician has seen and accepted: a warning becomes a note that says why it stands. */
import type { Problem } from "../base/problem.js";
import type { Accepted } from "./visit.js";

/** The problems with every accepted warning turned into a note; an error is never accepted away. */
export function applyAccepted(problems: readonly Problem[], accepted: readonly Accepted[]): Problem[] {
  return problems.map((problem) => {
    const entry = problem.severity === "warning" ? accepted.find(({ id }) => id === problem.id) : undefined;
    return entry
      ? { ...problem, severity: "note", message: `${problem.message} (accepted: ${entry.reason})` }
      : problem;
  });
}

/** Visit and Measures -> slips that only arithmetic can find: extent 40 for 4, units against hairs, mm for µm, and their like. */
import type { Problem } from "../base/problem.js";
import type { Visit } from "../visit/visit.js";
import { answerChecks } from "./plausible/answers.js";
import { countChecks } from "./plausible/counts.js";
import { extentChecks } from "./plausible/extent.js";
import type { Measures } from "./types.js";

/** Values that do not go together, each with its path in the visit file; warnings and notes only, since a rare truth is not an error. */
export function plausibility(visit: Visit, measures: Measures): Problem[] {
  return [...extentChecks, ...countChecks, ...answerChecks].flatMap((check) =>
    check(visit, measures).map(({ id, severity, message, path }) => ({ severity, id, message, path })),
  );
}

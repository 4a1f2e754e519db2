/** Rules of majors and minors over criteria that may be met, not met, or not assessable. */
import type { CriterionResult } from "./types.js";

/** Met when it is met whatever the open criteria turn out to be, not met when it cannot be met, otherwise null. */
export function majorsAndMinors(
  criteria: readonly CriterionResult[],
  rule: (majors: number, minors: number) => boolean,
): { readonly met: boolean | null; readonly majors: number; readonly minors: number } {
  const count = (kind: CriterionResult["kind"], met: boolean | null) =>
    criteria.filter((c) => c.kind === kind && c.met === met).length;
  const majors = count("major", true);
  const minors = count("minor", true);
  const atMost = rule(majors + count("major", null), minors + count("minor", null));
  return { met: rule(majors, minors) ? true : atMost ? null : false, majors, minors };
}

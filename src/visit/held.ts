/** The impressions that a visit holds, firmly or not: all but the excluded ones. */
import type { Impression, Visit } from "./visit.js";

export function heldImpressions(visit: Pick<Visit, "impression">): Impression[] {
  return visit.impression.filter(({ certainty }) => certainty !== "excluded");
}

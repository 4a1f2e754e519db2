/** A count of a finding far beyond what a field of view can show. */
import { type CheckContext, entries } from "../check-context.js";

/** Structures in one field of view; a wide limit of our own (common practice: tens at most). */
const MOST_IN_A_FIELD = 200;
/** Fields of view that one counts for one finding (common practice: two to five). */
const MOST_FIELDS = 9;

export function findingCount({ file, report }: CheckContext): void {
  for (const [i, site] of entries(file.sites)) {
    for (const { key, seen } of site.findings ?? []) {
      if (seen.state !== "present" || !seen.count) continue;
      const { count, fields } = seen.count;
      if (fields > MOST_FIELDS && count < fields) {
        report("count-and-fields-turned", ["sites", i, "findings", key], {
          message: `${count} in ${fields} fields: less than one in a field, and more fields than are usually counted`,
          suggestion: `{ count: ${fields}, fields: ${count} }`,
        });
      }
      if (count / fields <= MOST_IN_A_FIELD) continue;
      report("count-implausible", ["sites", i, "findings", key], {
        message: `${count} in ${fields} ${fields === 1 ? "field" : "fields"} are more than a field of view can show`,
        expected: `at most ${MOST_IN_A_FIELD} in a field`,
      });
    }
  }
}

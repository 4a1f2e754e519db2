/** Yellow dots counted in the fields of a site at which they were recorded as not seen, or the other way round. */
import { entries, type Look } from "../look.js";

export function fieldAgainstFinding({ file, report }: Look): void {
  for (const [i, site] of entries(file.sites)) {
    const line = (site.findings ?? []).find(({ finding }) => finding === "yellow-dots");
    const absent = line?.seen.state === "absent" || (site.none_of ?? []).includes("yellow-dots");
    const counts = entries(site.fields).flatMap(([j, field]) =>
      field.yellow_dots === undefined ? [] : [[j, field.yellow_dots] as const],
    );
    const some = counts.find(([, n]) => n > 0);
    const all = entries(site.fields).length;
    if (absent && some) {
      report("field-against-finding", ["sites", i, "fields", some[0], "yellow_dots"], {
        message: `${some[1]} yellow dots are counted here, and yellow dots are recorded as not seen`,
        expected: "the same in both places",
        related: line ? [{ message: "recorded here", path: ["sites", i, "findings"], key: line.key }] : [],
      });
    }
    if (line?.seen.state === "present" && !some && counts.length > 0 && counts.length === all) {
      report("field-against-finding", ["sites", i, "findings"], {
        message: "yellow dots are recorded as seen, and none is counted in any field",
        key: line.key,
        severity: "warning",
      });
    }
  }
}

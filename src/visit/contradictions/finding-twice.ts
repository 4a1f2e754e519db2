/** One finding recorded twice at a site under two spellings, alike or against itself. */
import { type CheckContext, entries } from "../check-context.js";

export function findingTwice({ file, report }: CheckContext): void {
  for (const [i, site] of entries(file.sites)) {
    const first = new Map<string, { key: string; state: string }>();
    const path = ["sites", i, "findings"];
    for (const { key, finding, seen } of site.findings ?? []) {
      const earlier = first.get(finding);
      if (!earlier) first.set(finding, { key, state: seen.state });
      else {
        const against = earlier.state !== seen.state;
        report(against ? "none-and-seen" : "finding-twice", path, {
          message: against
            ? `"${key}" and "${earlier.key}" are one finding, recorded as seen and as not seen`
            : `"${key}" and "${earlier.key}" are one finding`,
          key,
          found: key,
          expected: "one line for each finding",
          related: [{ message: "first recorded here", path, key: earlier.key }],
        });
      }
    }
    noneOf(i, site.none_of ?? [], first, report);
  }
}

/** The short list of absent findings against the lines above it and against itself. */
function noneOf(
  site: number,
  absent: readonly string[],
  recorded: ReadonlyMap<string, { key: string; state: string }>,
  report: CheckContext["report"],
): void {
  const listed = new Set<string>();
  for (const finding of absent) {
    const earlier = recorded.get(finding);
    if (earlier || listed.has(finding)) {
      report(earlier?.state === "present" ? "none-and-seen" : "finding-twice", ["sites", site], {
        message: earlier
          ? `"${earlier.key}" stands among the findings and in none_of`
          : `"${finding}" stands twice in none_of`,
        key: "none_of",
        expected: "one line for each finding",
        ...(earlier
          ? { related: [{ message: "recorded here", path: ["sites", site, "findings"], key: earlier.key }] }
          : {}),
      });
    }
    listed.add(finding);
  }
}

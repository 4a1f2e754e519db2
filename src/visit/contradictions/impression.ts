/** One disorder in the impression twice, alike or against itself. */
import { type CheckContext, entries } from "../check-context.js";

export function impression({ file, report }: CheckContext): void {
  const first = new Map<string, { index: number; certainty: string | undefined }>();
  for (const [i, { disorder, certainty }] of entries(file.impression)) {
    if (disorder === undefined) continue;
    const earlier = first.get(disorder);
    if (!earlier) {
      first.set(disorder, { index: i, certainty });
      continue;
    }
    const against = earlier.certainty !== certainty;
    const words = disorder.replaceAll("-", " ");
    report(against ? "impression-against-itself" : "impression-twice", ["impression", i, "disorder"], {
      message: against
        ? `${words} is both ${earlier.certainty ?? "recorded"} and ${certainty ?? "recorded"}`
        : `${words} stands twice`,
      expected: "one line for each disorder",
      related: [{ message: "first one here", path: ["impression", earlier.index] }],
    });
  }
}

/** A hair pull test that gives back more than was taken, or that was taken twice at one site. */
import { type CheckContext, entries } from "../check-context.js";

/** Hairs in one pull: 40 to 60 by common practice; the limit leaves room. */
const MOST_PULLED = 150;

export function pullTest({ file, report }: CheckContext): void {
  const first = new Map<string, number>();
  for (const [i, { site, pulled, came_out: out, anagen }] of entries(file.pull_test)) {
    const path = ["pull_test", i];
    if (pulled !== undefined && out !== undefined && out > pulled) {
      report("came-out-more-than-pulled", [...path, "came_out"], {
        message: `${out} hairs came out of ${pulled} pulled`,
        expected: `at most ${pulled}`,
      });
    }
    if (out !== undefined && anagen !== undefined && anagen > out) {
      report("anagen-more-than-came-out", [...path, "anagen"], {
        message: `${anagen} anagen hairs among ${out} that came out`,
        expected: `at most ${out}`,
      });
    }
    if (pulled !== undefined && pulled > MOST_PULLED) {
      report("pulled-implausible", [...path, "pulled"], {
        message: `${pulled} hairs in one pull`,
        expected: "about 40 to 60",
      });
    }
    if (site === undefined) continue;
    const earlier = first.get(site);
    if (earlier === undefined) first.set(site, i);
    else {
      report("pull-test-twice", [...path, "site"], {
        message: `two pull tests at ${site}`,
        related: [{ message: "first one here", path: ["pull_test", earlier, "site"] }],
      });
    }
  }
}

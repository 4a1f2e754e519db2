/** A next visit today, or years away. */
import type { CheckContext } from "../check-context.js";

const MOST_WEEKS = 104;

export function followUp({ file, report }: CheckContext): void {
  const weeks = file.follow_up?.weeks;
  if (weeks === 0) {
    report("follow-up-now", ["follow_up", "weeks"], {
      message: "a follow-up in 0 weeks is this visit",
      expected: "weeks from now, or no follow_up",
    });
  } else if (weeks !== undefined && weeks > MOST_WEEKS) {
    report("follow-up-far", ["follow_up", "weeks"], {
      message: `${weeks} weeks until the next visit`,
      expected: "weeks, not days",
      suggestion: weeks % 7 === 0 ? String(weeks / 7) : undefined,
    });
  }
}

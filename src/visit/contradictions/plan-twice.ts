/** One line of the plan written twice. */
import { type CheckContext, entries } from "../check-context.js";

export function planTwice({ file, report }: CheckContext): void {
  const first = new Map<string, number>();
  for (const [i, { who, action }] of entries(file.plan)) {
    if (who === undefined || action === undefined) continue;
    const same = `${who}\n${action}`.toLowerCase();
    const earlier = first.get(same);
    if (earlier === undefined) first.set(same, i);
    else {
      report("plan-twice", ["plan", i], {
        message: `"${action.slice(0, 60)}" stands twice for ${who}`,
        related: [{ message: "first one here", path: ["plan", earlier] }],
      });
    }
  }
}

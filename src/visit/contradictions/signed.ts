/** What a signed visit must not lack: an impression, and should not lack: a plan. */
import { type CheckContext, entries } from "../check-context.js";

export function signed({ file, report }: CheckContext): void {
  const done = file.visit?.status === "signed";
  const impressions = entries(file.impression);
  if (impressions.length === 0) {
    report(done ? "signed-without-impression" : "no-impression", [], {
      message: done ? "signed, and no impression is recorded" : "no impression is recorded yet",
      absent: "impression",
      ...(done ? { near: ["visit", "status"] } : {}),
      expected: "a disorder and a certainty",
    });
  } else if (done && impressions.every(([, line]) => line.certainty === "excluded")) {
    report("only-excluded", [], {
      message: "every disorder of the impression is excluded",
      key: "impression",
    });
  }
  if (entries(file.plan).length === 0) {
    report(done ? "signed-without-plan" : "no-plan", [], {
      message: done ? "signed, and no plan is recorded" : "no plan is recorded yet",
      absent: "plan",
      ...(done ? { near: ["visit", "status"] } : {}),
    });
  }
}

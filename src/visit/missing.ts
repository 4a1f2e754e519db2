/** What a visit file leaves out: what a letter cannot do without, and what is assumed in its stead. */
import type { CheckContext } from "./check-context.js";
import { reportRequired, VISIT_REQUIRED } from "./required.js";

/** Reports what is left out. A draft may still lack what only a finished letter needs. */
export function missing({ file, report }: CheckContext): void {
  const { visit, patient } = file;
  if (file.format === undefined) {
    report("format-assumed", [], {
      absent: "format",
      message: "format is left out; format 1 is assumed",
      suggestion: "format: 1",
    });
  }
  reportRequired(file, VISIT_REQUIRED, report);
  if (visit && visit.status === undefined) {
    report("status-assumed", ["visit"], {
      absent: "status",
      message: "status is left out; a draft is assumed",
      suggestion: "status: draft",
    });
  }
  if (visit && !visit.reason) {
    report("reason-missing", ["visit"], {
      absent: "reason",
      message: "the reason for the visit is left out",
      severity: visit.status === "signed" ? "error" : "warning",
      expected: "reason: a sentence",
    });
  }
  if (patient && patient.sex === undefined) {
    report("sex-missing", ["patient"], {
      absent: "sex",
      message: "sex is left out; the letter will say not stated",
      expected: "female, male, intersex, not stated",
    });
  }
}

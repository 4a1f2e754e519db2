/** Which cautions a document says to whom, and which of them cannot wait. */
import { cautionsOf } from "../interpret/cautions.js";
import { factsOf } from "../interpret/facts.js";
import type { FactsInput } from "./facts-input.js";
import { isFor } from "./recipients.js";
import { isUnsettled } from "./sentences.js";

type Input = Pick<FactsInput, "visit" | "recipient" | "measures" | "knowledge" | "interpretation">;

export interface CautionRules {
  isUrgent(id: string): boolean;
  /**
   * Its line is closed, so that the doctor is not asked again for what was done or agreed. What was offered and declined is still
   * asked for, and what cannot wait where the plan leaves it to this reader.
   */
  isClosedToDoctor(id: string): boolean;
  /** It may speak to the patient. */
  isTellable(id: string): boolean;
}

export function cautionRules(input: Input): CautionRules {
  const { visit, recipient, knowledge, interpretation } = input;
  const soonest = new Map(
    interpretation.mustNotMiss.filter(isUnsettled).map((line) => [line.caution, line.urgency]),
  );
  const isUrgent = (id: string) => ["now", "same day"].includes(soonest.get(id) ?? "");
  const isLeftToReader = (line: string) =>
    visit.plan.some((p) => !p.declined && p.answers?.includes(line) && isFor(p, recipient));
  const closed = new Set(
    interpretation.mustNotMiss.flatMap(({ id, caution, closedBy }) =>
      closedBy &&
      closedBy.kind !== "declined" &&
      !(closedBy.kind === "plan" && isUrgent(caution) && isLeftToReader(id))
        ? [caution]
        : [],
    ),
  );
  const untold = withoutKeptNames(input);
  return {
    isUrgent,
    isClosedToDoctor: (id) => closed.has(id),
    isTellable: (id) =>
      soonest.has(id) ||
      (!knowledge.cautions[id]?.patient_while_open && (untold === undefined || untold.has(id))),
  };
}

/** A caution that stands on a name kept for a talk would give the name away: those that stand without it, where one is kept. */
function withoutKeptNames({ visit, measures, knowledge }: Input): Set<string> | undefined {
  const impression = visit.impression.filter((i) => i.inHandout !== false);
  return impression.length < visit.impression.length
    ? new Set(cautionsOf(factsOf({ ...visit, impression }, measures, knowledge)).map((c) => c.id))
    : undefined;
}

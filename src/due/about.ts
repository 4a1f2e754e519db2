/** A line of work about one visit. */
import type { WorkVisit } from "./visits.js";
import { type WaitingKind, type WorkLine, whatOf } from "./work-line.js";

type Rest = Pick<WorkLine, "since"> & Partial<WorkLine>;

/** Due, without urgency, day or name unless `rest` says so. */
export function about(visit: WorkVisit, kind: WaitingKind, rest: Rest): WorkLine {
  const { identity } = visit;
  const { detail = "", edition = 1 } = rest;
  const name = [identity?.family, identity?.given].filter(Boolean).join(", ");
  return {
    kind,
    urgency: null,
    due: true,
    what: whatOf(kind, detail, edition),
    detail,
    of: "",
    edition,
    who: "",
    patient: { id: identity?.patient ?? "", name },
    visit: identity?.visit ?? "",
    path: visit.path,
    by: null,
    ...rest,
  };
}

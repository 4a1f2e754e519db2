/** Visits of one patient -> Change: ordered by date, never mixing patients, every step and the whole compared. */

import { hasError, type Outcome, type Problem } from "../../base/problem.js";
import type { CHANGE_PROBLEMS } from "../../base/problem-table.js";
import type { Knowledge } from "../../knowledge/schema.js";
import { daysBetween } from "../../visit/calendar.js";
import { type Differs, identityOf, openDifferences } from "../../visit/same-patient.js";
import type { Visit } from "../../visit/visit.js";
import { withoutUndefined } from "../../visit/without-undefined.js";
import { measure } from "../run.js";
import type { Measures } from "../types.js";
import { activityChanges } from "./activity.js";
import { findingChanges } from "./findings.js";
import { compareMeasures, keyedByOccurrence, readComparison } from "./measures.js";
import { responses } from "./response.js";
import { jumpSlips } from "./slips.js";
import type { Change, Series, Step, VisitStamp } from "./types.js";

type Id = keyof typeof CHANGE_PROBLEMS;

/**
 * Everything that changed between two or more visits of one patient, ordered by date. Errors `too-few-visits`,
 * `mixed-patients`, `same-visit-twice` and whatever makes it doubtful that the visits are one person's stop it; the rest are
 * warnings.
 */
export function compareVisits(visits: readonly Visit[], knowledge: Knowledge): Outcome<Change> {
  const ordered = [...visits].sort((a, b) => a.date.localeCompare(b.date) || a.id.localeCompare(b.id));
  const problems = checkVisits(ordered);
  const [first] = ordered;
  const last = ordered.at(-1);
  if (!first || !last || hasError(problems)) return { problems };
  const seen = ordered.map((visit) => ({ visit, measures: measure(visit, knowledge) }));
  const steps = seen.slice(1).flatMap((after, i) => {
    const before = seen[i];
    return before ? [step(before, after, knowledge)] : [];
  });
  steps.forEach((s, i) => {
    const [a, b] = [ordered[i], ordered[i + 1]];
    if (!a || !b) return;
    for (const { id, message } of jumpSlips(a, b, s.measures)) {
      problems.push({ severity: "warning", id, message: `visits ${a.id} and ${b.id}: ${message}` });
    }
  });
  const [start, end] = [seen[0], seen.at(-1)];
  const whole = steps.length === 1 ? steps[0] : start && end && step(start, end, knowledge);
  if (!whole) return { problems };
  return {
    value: {
      patient: { id: first.patient.id, born: first.patient.born },
      visits: ordered.map(stamp),
      series: seriesOf(seen),
      steps,
      overall: whole,
    },
    problems,
  };
}

interface Measuring {
  readonly visit: Visit;
  readonly measures: Measures;
}

const stamp = (visit: Visit): VisitStamp => ({ visit: visit.id, date: visit.date });

function step(before: Measuring, after: Measuring, knowledge: Knowledge): Step {
  const comparison = readComparison(knowledge);
  const { changes, notCompared } = compareMeasures(before, after, comparison);
  const findings = findingChanges(before.visit, after.visit, comparison.counted_findings);
  const regions = (v: Visit) => new Set(v.sites.map((s) => s.site));
  const [a, b] = [regions(before.visit), regions(after.visit)];
  return {
    from: stamp(before.visit),
    to: stamp(after.visit),
    days: daysBetween(before.visit.date, after.visit.date),
    measures: changes,
    notCompared,
    findings,
    sitesOnlyBefore: [...a].filter((r) => !b.has(r)),
    sitesOnlyAfter: [...b].filter((r) => !a.has(r)),
    responses: responses(before.measures, after.measures, knowledge),
    activity: activityChanges(findings, after.visit, knowledge),
  };
}

function seriesOf(seen: readonly Measuring[]): Series[] {
  const series = new Map<string, Series>();
  for (const { visit, measures } of seen) {
    for (const { key, nth, measured: m } of keyedByOccurrence(measures)) {
      const point = withoutUndefined({ ...stamp(visit), value: m.value, low: m.low, high: m.high, n: m.n });
      const known = series.get(key);
      series.set(key, {
        id: m.id,
        term: m.term,
        ...(m.site ? { site: m.site } : {}),
        nth,
        unit: m.unit,
        places: m.places,
        fromMemory: m.fromMemory,
        ...(m.normal ? { normal: m.normal } : {}),
        points: [...(known?.points ?? []), point],
      });
    }
  }
  return [...series.values()];
}

const DIFFERS: Record<Differs, string> = {
  "given-differs": "the given names differ",
  "family-differs": "the family names differ",
  "born-differs": "the dates of birth differ",
  "sex-differs": "the sexes differ",
};

function checkVisits(ordered: readonly Visit[]): Problem[] {
  const problems: Problem[] = [];
  const [first] = ordered;
  const add = (severity: Problem["severity"], id: Id, message: string) =>
    problems.push({ severity, id, message });
  if (!first || ordered.length < 2) {
    add("error", "too-few-visits", `a comparison needs at least two visits; found ${ordered.length}`);
    return problems;
  }
  const people = ordered.map(identityOf);
  ordered.slice(1).forEach((visit, i) => {
    const previous = ordered[i] ?? first;
    const [a, b] = [first.patient, visit.patient];
    if (a.id !== b.id) {
      add("error", "mixed-patients", `visit ${visit.id} is of patient ${b.id}, visit ${first.id} of ${a.id}`);
      return;
    }
    for (const id of openDifferences(identityOf(first), identityOf(visit), people))
      add("error", id, `visit ${visit.id} and visit ${first.id} under the number ${a.id}: ${DIFFERS[id]}`);
    if (ordered.findIndex((v) => v.id === visit.id) <= i) {
      add("error", "same-visit-twice", `visit ${visit.id} was given twice`);
    } else if (previous.date === visit.date) {
      add("warning", "same-day-visits", `visits ${previous.id} and ${visit.id} are both of ${visit.date}`);
    }
    const [s, t] = [previous.scope, visit.scope];
    if (s.fieldDiameterMm !== t.fieldDiameterMm || s.magnification !== t.magnification) {
      add("note", "scope-differs", `the field of view differs between visits ${previous.id} and ${visit.id}`);
    }
  });
  return problems;
}

/** Results of cases -> the figures that are printed, with intervals where a share is meant. */
import { wilson } from "../../src/measure/statistics/proportions.js";
import type { FirstSeen } from "./first-sight.js";
import type { CaseResult } from "./run-cases.js";

/** What a first-sight entry and a fresh result have in common. */
export type Outcome = Pick<
  FirstSeen,
  "confirmed" | "findings" | "band" | "rank" | "share" | "second" | "line" | "leading"
>;

/** A disorder that leads in no draw counts as leading in half a one of a hundred. */
const LEAST = 0.005;
const SURE = ["supported", "strongly supported"];

export function outcomeOf(r: CaseResult): Outcome {
  return {
    confirmed: [...r.confirmed],
    findings: r.findings,
    leading: r.leading,
    band: r.band,
    rank: Number.isFinite(r.rank) ? r.rank : 99,
    share: r.confirmedLeads,
    ...(r.second ? { second: r.second } : {}),
    ...(r.wanted === null
      ? {}
      : { line: r.mustNotMiss.includes(r.wanted) ? ("raised" as const) : ("missed" as const) }),
  };
}

/** `41 of 50 (82 %, 69 to 90)`, the interval by Wilson's method. */
export function shareOf(part: number, whole: number): string {
  if (whole === 0) return "none";
  const { low, high } = wilson(part, whole);
  const percent = (v: number) => Math.round(100 * v);
  return `${part} of ${whole} (${percent(part / whole)} %, ${percent(low)} to ${percent(high)})`;
}

/** Mean of -log2 of the share of draws in which a confirmed disorder leads. */
export function surpriseOf(list: readonly Outcome[]): number {
  return list.reduce((sum, o) => sum - Math.log2(Math.max(o.share, LEAST)), 0) / list.length;
}

/** The figures of one list, a line each. */
export function figuresOf(list: readonly Outcome[]): string[] {
  const rich = list.filter((o) => o.findings >= 3);
  const within = (from: readonly Outcome[], rank: number) => from.filter((o) => o.rank <= rank).length;
  // Three names are one disease under the names of its parts: fibrosing alopecia in a pattern distribution.
  const pairs = list.filter((o) => o.confirmed.length === 2);
  const singles = list.filter((o) => o.confirmed.length === 1);
  const lines = list.filter((o) => o.line !== undefined);
  return [
    `leads                      ${shareOf(within(list, 1), list.length)}`,
    `among three                ${shareOf(within(list, 3), list.length)}`,
    `three findings or more     leads ${shareOf(within(rich, 1), rich.length)}, among three ${shareOf(within(rich, 3), rich.length)}`,
    `surprise                   ${surpriseOf(list).toFixed(2)} bits`,
    ...["strongly supported", "supported", "possible"].map((band) => {
      const of = list.filter((o) => o.band === band);
      return `${band.padEnd(26)} right in ${shareOf(within(of, 1), of.length)}`;
    }),
    `supported at all           ${shareOf(list.filter((o) => SURE.includes(o.band)).length, list.length)}`,
    `must-not-miss lines        ${shareOf(lines.filter((o) => o.line === "raised").length, lines.length)}`,
    `both of two named          ${shareOf(pairs.filter((o) => namesBoth(o)).length, pairs.length)}`,
    `needless second            ${shareOf(singles.filter((o) => o.second !== undefined).length, singles.length)}`,
  ];
}

export function namesBoth(o: Outcome): boolean {
  return (
    o.second !== undefined &&
    o.confirmed.includes(o.second) &&
    o.confirmed.includes(o.leading) &&
    o.second !== o.leading
  );
}

/** One line per group of a list, in order of the name. */
export function byGroup(list: readonly Outcome[], nameOf: (o: Outcome) => string): string[] {
  const groups = new Map<string, Outcome[]>();
  for (const o of list) groups.set(nameOf(o), [...(groups.get(nameOf(o)) ?? []), o]);
  return [...groups]
    .sort(([x], [y]) => (x < y ? -1 : 1))
    .map(([name, of]) => {
      const lead = of.filter((o) => o.rank === 1).length;
      const three = of.filter((o) => o.rank <= 3).length;
      return `${name.padEnd(42)} leads ${String(lead).padStart(3)} of ${String(of.length).padEnd(3)}  among three ${three}`;
    });
}

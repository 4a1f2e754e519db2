/** The facts catalogue and the hazard log as `whorl catalogue` prints them. */
import pc from "picocolors";
import { FACT_KINDS, type FactKind, LIKELIHOODS, SEVERITIES } from "../knowledge/facts-schema.js";
import type { Fact, Hazard, Knowledge } from "../knowledge/schema.js";
import { citations, evidenceLines } from "./catalogue-parts.js";
import { wrap } from "./wrap.js";

/** Where a fact of each kind is written in a visit file. */
const WRITTEN: Readonly<Record<FactKind, string>> = {
  "red flag": "asked",
  history: "asked",
  exposure: "history.exposures",
  pattern: "examination.pattern",
  sign: "examination.signs or sites[].signs",
  "medicine class": "read from history.medicines",
};

export function factListing(k: Knowledge): string[] {
  return FACT_KINDS.flatMap((kind) => {
    const terms = Object.values(k.facts).flatMap((f) => (f.kind === kind ? [f.term] : []));
    if (terms.length === 0) return [];
    return [pc.bold(`Facts, ${kind} (${terms.length}), ${WRITTEN[kind]}`), wrap(terms.join("; "), 2), ""];
  });
}

export function explainFact(f: Fact, k: Knowledge): string[] {
  const cited = new Set<string>([f.source]);
  const rows = Object.entries(f.evidence).flatMap(([id, of]) =>
    evidenceLines(k.disorders[id]?.term ?? id, of, cited),
  );
  return [
    `${pc.bold(f.term)}  ${pc.dim(`${f.kind}, ${WRITTEN[f.kind]}`)}`,
    ...(f.also.length > 0 ? [pc.dim(wrap(`also: ${f.also.join(", ")}`))] : []),
    wrap(f.what),
    ...(f.question ? [wrap(`To ask: ${f.question}`)] : []),
    ...(f.urgency ? [wrap(`If yes: ${f.urgency}. Who acts: ${f.who}.`)] : []),
    ...(f.called_for ? [wrap(`Called for: ${f.called_for.why}`)] : []),
    ...(rows.length > 0 ? ["", pc.bold("How often, by disorder"), ...rows] : []),
    ...(f.hazards.length > 0
      ? ["", pc.bold("Hazards"), ...f.hazards.map((id) => wrap(k.hazards[id]?.term ?? id, 2))]
      : []),
    "",
    ...citations([...cited].join("; "), k),
  ];
}

/** Risk by severity and likelihood, 1 (acceptable) to 5 (unacceptable), after the matrix of the standard. */
const RISK: readonly (readonly number[])[] = [
  [1, 1, 2, 2, 3],
  [1, 2, 2, 3, 4],
  [2, 2, 3, 3, 4],
  [2, 3, 3, 4, 5],
  [3, 4, 4, 5, 5],
];

export const riskOf = (h: Hazard): number =>
  RISK[SEVERITIES.indexOf(h.severity)]?.[LIKELIHOODS.indexOf(h.likelihood)] ?? 5;

/** The whole log, worst first, for a clinic's own safety officer. */
export function hazardLog(k: Knowledge): string[] {
  const hazards = Object.values(k.hazards).toSorted(
    (x, y) => riskOf(y) - riskOf(x) || (x.id < y.id ? -1 : 1),
  );
  const sources = [...new Set(hazards.flatMap((h) => h.source.split(/\s*;\s*/u)))].join("; ");
  return [
    pc.bold(`Hazard log (${hazards.length})`),
    wrap(
      "Severity is how bad the harm is; likelihood and risk (1 acceptable to 5 unacceptable) are judged with the controls in place, by the makers, for the clinic's own safety officer to judge again.",
    ),
    ...hazards.flatMap((h) => [
      "",
      `${pc.bold(h.term)}  ${pc.dim(`${h.id}: ${h.severity}, ${h.likelihood}, risk ${riskOf(h)}`)}`,
      wrap(h.what, 2),
      wrap(`Who: ${h.whom}`, 2),
      ...h.causes.map((c) => wrap(`Cause: ${c}`, 2)),
      ...h.controls.map((c) => wrap(`Control: ${c.does} [${c.where}]`, 2)),
      wrap(`Left over: ${h.left_over}`, 2),
    ]),
    "",
    ...citations(sources, k),
  ];
}

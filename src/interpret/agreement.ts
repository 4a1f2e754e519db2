/** Sets the recorded impression beside the evidence: a verdict with its reason, and problems for `check` and `letter`. */

import type { DisorderId } from "../base/ids.js";
import type { Problem } from "../base/problem.js";
import type { AGREEMENT_PROBLEMS } from "../base/problem-table.js";
import { withCapital, withoutCapital } from "../base/text.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Measures } from "../measure/types.js";
import { heldImpressions } from "../visit/held.js";
import type { Impression, Visit } from "../visit/visit.js";
import { contradicted, openLines } from "./cautions.js";
import { type Facts, factsOf, withBands } from "./facts.js";
import {
  type Agreement,
  BANDS,
  type Band,
  type DisorderView,
  type HealthyView,
  type Interpretation,
  type MustNotMiss,
  type Reason,
} from "./interpretation.js";
import { reasonPhrase } from "./reasons.js";
import { safetyProblems } from "./safety-problems.js";

/** Below this share of what could bear on the candidates, a definite impression is called thinly recorded. */
const THIN = 0.12;

/** What the comparison leans on besides the bands. */
export interface Beside {
  readonly second: string | undefined;
  readonly healthy: HealthyView;
  /** Share of what could bear on the leading disorders that was assessed. */
  readonly assessedShare: number;
  /** Findings recorded, present or absent. */
  readonly recorded: number;
  readonly open: readonly MustNotMiss[];
}

/** Fewer findings than this, present or absent, tell nothing of a scalp as a whole. */
const LEAST_LOOKED_FOR = 3;

/** Compares what was recorded with the bands; `disorders` stands best supported first. */
export function agreementOf(
  visit: Visit,
  disorders: readonly DisorderView[],
  beside: Beside,
  knowledge: Knowledge,
): Agreement {
  const held = heldImpressions(visit);
  const recorded = held.map((i) => i.disorder);
  const term = (id: DisorderId) => knowledge.disorders[id]?.term ?? id;
  const viewOf = (id: DisorderId) => disorders.find((d) => d.id === id);
  const bandOf = (id: DisorderId): Band => viewOf(id)?.band ?? "not assessable";
  const leader = disorders.find((d) => d.band !== "not assessable");
  const leading = leader && leader.band !== "unlikely" ? leader : undefined;
  const leadWords = leading
    ? `the findings favour ${term(leading.id)} (${leading.band})${topReasons(leading)}`
    : "";
  const says = (verdict: Agreement["verdict"], ...parts: string[]): Agreement => ({
    recorded,
    verdict,
    why: sentence(parts.filter((p) => p !== "").join("; ")),
  });
  const denied = visit.impression.find((i) => i.certainty === "excluded" && i.disorder === leading?.id);
  if (denied && leading && atLeast(leading.band, "supported")) {
    return says("disagrees", `${leadWords}, which was recorded as excluded`);
  }
  if (held.length === 0) return says("no-impression", "no impression is recorded", leadWords);
  const healthy = held.find((i) => knowledge.disorders[i.disorder]?.family === "healthy");
  if (healthy) return says(...besideNothingFound(leading, leadWords, beside));
  // A differential of possibles does not weaken a firmer impression beside it.
  const firm = held.filter((i) => i.certainty !== "possible");
  const judged = firm.length > 0 ? firm : held;
  const fits = (i: Impression) => {
    const band = bandOf(i.disorder);
    const stands = i.disorder === leading?.id || i.disorder === beside.second || atLeast(band, "supported");
    return stands || (i.certainty === "possible" && band === "possible");
  };
  const words = held.map((i) => `${term(i.disorder)} is ${bandOf(i.disorder)}`).join("; ");
  const fitting = judged.filter(fits);
  const missesLead =
    leading !== undefined && atLeast(leading.band, "supported") && !recorded.includes(leading.id);
  if (fitting.length === judged.length && !missesLead) {
    const lacking = judged.flatMap((i) => lacksFor(i, viewOf(i.disorder), beside, knowledge));
    return lacking.length === 0 ? says("agrees", words) : says("too-little", words, ...new Set(lacking));
  }
  const silent = recorded.every((id) => bandOf(id) === "not assessable");
  if (silent && !missesLead) return says("too-little", words, "nothing that bears on it was recorded");
  const against =
    fitting.length === 0 && (missesLead || recorded.every((id) => bandOf(id) === "unlikely")) && !silent;
  const lead = leadWords && !recorded.includes(leading?.id ?? "") ? leadWords : "";
  return says(against ? "disagrees" : "partly", words, lead);
}

/** What is missing before the evidence may be said to agree with one impression. */
function lacksFor(
  i: Impression,
  view: DisorderView | undefined,
  { second, assessedShare, open }: Beside,
  knowledge: Knowledge,
): string[] {
  const lacking: string[] = [];
  if (!view || (!atLeast(view.band, "supported") && i.disorder !== second)) {
    lacking.push("what was recorded is too little to support it");
  } else if (!view.for.some(isPositiveGround)) {
    lacking.push(`no finding or test speaks for ${knowledge.disorders[i.disorder]?.term ?? i.disorder}`);
  }
  if (assessedShare < THIN) lacking.push("too few of the findings that bear on it were looked for");
  const contradicting = open.filter((m) => !m.answeredByPlan && contradicts(m, i.disorder, knowledge));
  for (const m of contradicting) lacking.push(`${m.id.replaceAll("-", " ")} is not yet answered`);
  return lacking;
}

/** A clinician's `nothing abnormal found`, beside the healthy comparator. */
function besideNothingFound(
  leading: DisorderView | undefined,
  leadWords: string,
  { healthy, recorded, open }: Beside,
): [Agreement["verdict"], ...string[]] {
  const lines = open.filter((m) => !m.answeredByPlan).map((m) => `${m.id.replaceAll("-", " ")} stands open`);
  if (leading && atLeast(leading.band, "supported")) return ["disagrees", leadWords, ...lines];
  if (lines.length > 0) return ["partly", ...lines, leadWords];
  if (recorded < LEAST_LOOKED_FOR) return ["too-little", "few findings were looked for, present or absent"];
  if (healthy.comparable) return ["agrees", "the findings recorded are also seen on healthy scalps"];
  return ["partly", lower(healthy.why), leadWords];
}

function isPositiveGround(r: Reason): boolean {
  return r.weight > 0 && r.kind !== "context" && r.state !== "absent" && r.examined !== false;
}

/** An open line stands against every disorder but those that would be its cause; lines on other matters stand against none. */
function contradicts(m: MustNotMiss, disorder: DisorderId, knowledge: Knowledge): boolean {
  const line = knowledge.weighing.lines.find((l) => l.ids.includes(m.id));
  const family = `family:${knowledge.disorders[disorder]?.family}`;
  return line !== undefined && !line.fits.includes(disorder) && !line.fits.includes(family);
}

function lower(words: string): string {
  return withoutCapital(words.replace(/\.$/u, ""));
}

/**
 * What `check` and `letter` must say before anything is printed. A problem whose id (or `id:detail`, such as
 * `must-not-miss-open:scarring`) stands in `accept` comes back as a note that carries the reason given.
 */
export function agreementProblems(
  visit: Visit,
  measures: Measures,
  interpretation: Interpretation,
  knowledge: Knowledge,
): Problem[] {
  const problems: {
    id: keyof typeof AGREEMENT_PROBLEMS;
    detail?: string;
    path: string;
    message: string;
    severity?: Problem["severity"];
  }[] = [];
  const { agreement } = interpretation;
  if (agreement.verdict === "disagrees") {
    const message = `impression and findings part ways: ${agreement.why}`;
    problems.push({ id: "impression-disagrees", path: "impression", message });
  }
  const bands = Object.fromEntries(interpretation.disorders.map((d) => [d.id, d.band]));
  const facts: Facts = {
    ...withBands(factsOf(visit, measures, knowledge), bands),
    openLines: openLines(interpretation),
  };
  problems.push(...safetyProblems(facts, interpretation));
  for (const { caution, says } of contradicted(facts)) {
    problems.push({ id: "plan-contradicts-caution", detail: caution.id, path: "plan", message: says });
  }
  const definite = visit.impression.filter((i) => i.certainty === "definite");
  // A healthy scalp is weighed by nobody; how much was looked at for it is said by the agreement.
  const silent = definite.filter(
    (i) =>
      knowledge.disorders[i.disorder]?.family !== "healthy" &&
      (bands[i.disorder] ?? "not assessable") === "not assessable",
  );
  if (definite.length > 0 && (silent.length > 0 || interpretation.assessedShare < THIN)) {
    const names = (silent.length > 0 ? silent : definite)
      .map((i) => knowledge.disorders[i.disorder]?.term ?? i.disorder)
      .join(", ");
    const message = `${names}: recorded as definite, but little that bears on it was recorded`;
    problems.push({ id: "thin-evidence", path: "impression", message });
  }
  return problems.map(({ id, detail, path, message, severity = "warning" }) => {
    const accepted =
      visit.accept.find((a) => detail !== undefined && a.id === `${id}:${detail}`) ??
      visit.accept.find((a) => a.id === id);
    return accepted
      ? { severity: "note", id, path, message: `${message} (accepted: ${accepted.reason})` }
      : { severity, id, path, message };
  });
}

function topReasons(view: DisorderView): string {
  const top = view.for.filter((r) => r.kind !== "context").slice(0, 2);
  return top.length > 0 ? `, chiefly by ${top.map(reasonPhrase).join(" and ")}` : "";
}

function atLeast(band: Band, least: Band): boolean {
  return BANDS.indexOf(band) <= BANDS.indexOf(least);
}

function sentence(words: string): string {
  return `${withCapital(words)}.`.replace(/\.\.$/u, ".");
}

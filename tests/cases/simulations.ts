/** Runs the engine over made-up visits: healthy scalps, one disorder, two disorders, and what its first advice is worth. */
import { seededDraws } from "../../src/base/draws.js";
import { cellsFor } from "../../src/interpret/cells.js";
import { factsOf } from "../../src/interpret/facts.js";
import { type Interpretation, interpret } from "../../src/interpret/interpret.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import type { Measures } from "../../src/measure/types.js";
import type { Visit } from "../../src/visit/visit.js";
import { shareOf } from "./figures.js";
import { disorderVisit, healthyVisit, type Simulated } from "./simulate.js";

const NO_MEASURES: Measures = { measured: [], notMeasured: [], rules: [] };
const SURE = ["supported", "strongly supported"];
const HEALTHY = 500;
const SINGLES = 300;
const PAIRS = 300;
/** Findings that are kept when it is asked what the first advice is worth. */
const KEPT = 2;

export function simulations(knowledge: Knowledge): string[] {
  const read = (visit: Visit) => interpret(visit, NO_MEASURES, knowledge);
  const healthy = Array.from({ length: 2 * HEALTHY }, (_, i) =>
    read(healthyVisit(`healthy ${i}`, i % 2 === 1, knowledge).visit),
  );
  const names = Object.values(knowledge.disorders)
    .filter((d) => d.family !== "healthy" && Object.keys(d.evidence).length >= 5)
    .map((d) => d.id);
  const singles = Array.from({ length: SINGLES }, (_, i) =>
    both(disorderVisit(`single ${i}`, [names[i % names.length] ?? ""], i % 2 === 1, knowledge), read),
  );
  const { known } = knowledge.weighing.pairs;
  const pairs = Array.from({ length: PAIRS }, (_, i) =>
    both(disorderVisit(`pair ${i}`, [...(known[i % known.length]?.of ?? [])], i % 2 === 1, knowledge), read),
  );
  const named = pairs.filter(
    ({ truth, i }) =>
      i.second &&
      truth.includes(i.second.id) &&
      truth.includes(i.disorders[0]?.id ?? "") &&
      i.second.id !== i.disorders[0]?.id,
  );
  const advice = singles.flatMap(({ visit, truth, i: _ }, n) =>
    adviceGain(visit, truth[0] ?? "", n, knowledge),
  );
  const mean = advice.reduce((sum, a) => sum + a, 0) / Math.max(1, advice.length);
  return [
    `healthy: a disorder supported      ${shareOf(healthy.filter(isSure).length, healthy.length)}`,
    `healthy: psoriasis leads           ${shareOf(healthy.filter((i) => i.disorders[0]?.id === "scalp-psoriasis" && i.disorders[0].band !== "unlikely").length, healthy.length)}`,
    `healthy: an alarm                  ${shareOf(healthy.filter((i) => i.mustNotMiss.length > 0).length, healthy.length)}`,
    `healthy: a biopsy among the first  ${shareOf(healthy.filter((i) => i.lookNext.slice(0, 3).some((l) => /biops|histol/u.test(l.lookFor))).length, healthy.length)}`,
    `one disorder: leads                ${shareOf(singles.filter(({ truth, i }) => truth.includes(i.disorders[0]?.id ?? "")).length, singles.length)}`,
    `one disorder: needless second      ${shareOf(singles.filter(({ i }) => i.second).length, singles.length)}`,
    `two disorders: both named          ${shareOf(named.length, pairs.length)}`,
    `first advice followed: share of the truth ${mean >= 0 ? "rises" : "falls"} by ${Math.abs(mean).toFixed(3)} on average, in ${shareOf(advice.filter((a) => a > 0).length, advice.length)}`,
  ];
}

function isSure(i: Interpretation): boolean {
  return SURE.includes(i.disorders[0]?.band ?? "");
}

function both(made: Simulated, read: (visit: Visit) => Interpretation) {
  return { ...made, i: read(made.visit) };
}

/** How much the share of the truth gains when a thin visit is completed by the finding that was advised first. */
function adviceGain(visit: Visit, truth: string, n: number, knowledge: Knowledge): number[] {
  const [site] = visit.sites;
  if (!site) return [];
  const present = site.findings.filter((f) => f.seen.state === "present").slice(0, KEPT);
  const thin: Visit = { ...visit, sites: [{ ...site, findings: present }] };
  const before = interpret(thin, NO_MEASURES, knowledge);
  const advised = before.lookNext.find((l) => l.kind === "finding");
  if (!advised || present.length < KEPT) return [];
  const cells = cellsFor(factsOf(thin, NO_MEASURES, knowledge));
  const cell = cells.row(advised.lookFor, "present", undefined).cells[cells.disorders.indexOf(truth)];
  const seen =
    seededDraws(`advice ${n}`).uniform() < (cell?.mean ?? 0)
      ? ({ state: "present", amount: "several" } as const)
      : ({ state: "absent" } as const);
  const after = interpret(
    { ...thin, sites: [{ ...site, findings: [...present, { finding: advised.lookFor, seen }] }] },
    NO_MEASURES,
    knowledge,
  );
  const shareIn = (i: Interpretation) => i.disorders.find((d) => d.id === truth)?.leads ?? 0;
  return [shareIn(after) - shareIn(before)];
}

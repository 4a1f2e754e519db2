/** A suspected disorder -> the findings to look for: its own, those that tell it from what it is taken for, signs of scarring. */
import type { FindingId } from "../base/ids.js";
import type { Disorder, EvidenceRow, Knowledge } from "../knowledge/schema.js";

/** Findings to look for together, as ids, with the reason. */
export interface LookGroup {
  readonly heading: string;
  readonly why: string;
  readonly findings: readonly FindingId[];
}

/** Seen in fewer than this share of patients, a finding is left to the clinician's own eye. */
const WORTH_A_LOOK = 0.1;
/** A finding tells two disorders apart when their shares lie this far apart. */
const TELLS_APART = 0.15;
const MOST_OWN = 10;
const MOST_OF_A_MIMIC = 3;
const MOST_SCARRING = 2;
const MOST_OF_A_GROUP = 5;

/** What to look for when `disorder` is suspected; each finding stands once. Shares are plain means over the studies. */
export function lookFor(disorder: Disorder, knowledge: Knowledge): LookGroup[] {
  const taken = new Set<string>();
  const take = (findings: readonly FindingId[], most: number): FindingId[] => {
    const fresh = findings.filter((id) => !taken.has(id)).slice(0, most);
    for (const id of fresh) taken.add(id);
    return fresh;
  };
  const own = ranked(disorder, knowledge, (id) => shareIn(disorder, id, knowledge));
  const groups: LookGroup[] = [
    {
      heading: disorder.term,
      why: "",
      findings: take(
        own.filter(([, share]) => share >= WORTH_A_LOOK).map(([id]) => id),
        MOST_OWN,
      ),
    },
  ];
  for (const { disorder: id, tell } of disorder.mimics) {
    const mimic = knowledge.disorders[id];
    if (!mimic) continue;
    const apart = ranked(
      mimic,
      knowledge,
      (finding) => shareIn(mimic, finding, knowledge) - shareIn(disorder, finding, knowledge),
    );
    groups.push({
      heading: mimic.term,
      why: tell,
      findings: take(
        apart.filter(([, gap]) => gap >= TELLS_APART).map(([f]) => f),
        MOST_OF_A_MIMIC,
      ),
    });
  }
  groups.push({
    heading: "signs of scarring, looked for in everyone",
    why: "",
    findings: take(scarringSigns(knowledge), MOST_SCARRING),
  });
  return groups.filter((group) => group.findings.length > 0);
}

/** What to look for when nothing is suspected yet: of each kind of structure, what most disorders may show. */
export function firstLook(knowledge: Knowledge): LookGroup[] {
  const disorders = Object.values(knowledge.disorders);
  const reach = (id: FindingId) =>
    disorders.filter((d) => shareIn(d, id, knowledge) >= WORTH_A_LOOK * 2).length;
  const scarring = scarringSigns(knowledge).slice(0, MOST_SCARRING);
  const kinds = [...new Set(Object.values(knowledge.findings).map((f) => f.group))];
  const groups = kinds.map((kind) => ({
    heading: kind,
    why: "",
    findings: Object.values(knowledge.findings)
      .filter((f) => f.group === kind && !scarring.includes(f.id))
      .map((f) => [f.id, reach(f.id)] as const)
      .filter(([, count]) => count > 0)
      .sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1))
      .slice(0, MOST_OF_A_GROUP)
      .map(([id]) => id),
  }));
  return [
    ...groups,
    { heading: "signs of scarring, looked for in everyone", why: "", findings: scarring },
  ].filter((group) => group.findings.length > 0);
}

function scarringSigns(knowledge: Knowledge): string[] {
  const scarring = Object.values(knowledge.disorders).filter((d) => d.family === "scarring");
  const reach = (id: FindingId) => scarring.filter((d) => Object.hasOwn(d.evidence, id)).length;
  return Object.values(knowledge.findings)
    .filter((f) => f.scarring_sign)
    .map((f) => f.id)
    .sort((a, b) => reach(b) - reach(a) || (a < b ? -1 : 1));
}

function ranked(
  disorder: Disorder,
  knowledge: Knowledge,
  by: (id: FindingId) => number,
): [FindingId, number][] {
  return Object.keys(disorder.evidence)
    .filter((id) => Object.hasOwn(knowledge.findings, id))
    .map((id): [string, number] => [id, by(id)])
    .sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1));
}

/** Mean share, 0-1, over the studies of the whole disorder; over its subgroups where there are no others; 0 unreported. */
function shareIn(disorder: Disorder, finding: FindingId, knowledge: Knowledge): number {
  const rows = (disorder.evidence[finding] ?? []).filter((row) => row.unit === undefined);
  const whole = rows.filter((row) => row.subgroup === undefined && row.site === undefined);
  const shares = (whole.length > 0 ? whole : rows).map((row) => shareOf(row, knowledge));
  return shares.length === 0 ? 0 : shares.reduce((a, b) => a + b, 0) / shares.length;
}

function shareOf(row: EvidenceRow, knowledge: Knowledge): number {
  if (row.positive !== undefined && row.of !== undefined) return row.positive / row.of;
  if (row.percent !== undefined) return row.percent / 100;
  const [low, high] = row.range ?? (row.frequency && knowledge.frequencyWords[row.frequency]) ?? [0, 0];
  return (low + high) / 200;
}

/** An audit -> the facts of its sheet, its charts, and its JSON and CSV. */
import { type Cell, csvText } from "../base/csv.js";
import { sharesChart } from "../diagram/chart.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Words } from "../letter/phrases.js";
import { type Audit, type AuditRow, INTERVAL_SOURCE, OTHERS, type Share } from "./audit.js";

/** Term of a disorder, or the word for a band. */
function labelOf(id: string, knowledge: Knowledge, words: Pick<Words, "bands">): string {
  return knowledge.disorders[id]?.term ?? words.bands[id] ?? id;
}

const percent = (share: number) => `${Math.round(share * 100)} %`;

function shareFacts(share: Share | null) {
  if (!share) return { yes: 0, percent: "", interval: "" };
  const { low, high } = share;
  return {
    yes: share.yes,
    percent: percent(share.share),
    interval: `${Math.round(low * 100)}\u2013${percent(high)}`,
  };
}

function rowFacts(row: AuditRow, label: string) {
  const { of, impression, engine } = row;
  const shown = of !== null && impression !== null && engine !== null;
  const kind = ["test", "course", OTHERS].includes(row.id) ? row.id : "named";
  return { kind, label, shown, of: of ?? 0, impression: shareFacts(impression), engine: shareFacts(engine) };
}

/** First author and year of a citation. */
function shortSource(citation: string): string {
  const year = /\b(?:19|20)\d\d\b/u.exec(citation)?.[0] ?? "";
  return `${citation.split(/[\s,]/u)[0] ?? ""} ${year}`.trim();
}

interface SheetWords {
  readonly knowledge: Knowledge;
  readonly words: Words;
}

/** What the template `audit` prints, and the drawings it asks for. */
export function auditSheet(audit: Audit, today: string, { knowledge, words }: SheetWords) {
  const drawings: Record<string, () => string> = {};
  const table = (id: string, rows: readonly AuditRow[]) => {
    const named = rows.map((row) => ({ row, label: labelOf(row.id, knowledge, words) }));
    const charted = named.flatMap(({ row: { of, impression, engine }, label }) =>
      of !== null && impression && engine ? [{ label, of, impression, engine }] : [],
    );
    const chart = id !== "proof" && charted.length > 0 ? `chart-${id}` : "";
    const { impression, engine, of } = words.audit;
    const mark = (share: Share) => ({ ...share, says: `${share.yes} ${of} ${share.of}` });
    if (chart)
      drawings[chart] = () =>
        sharesChart({
          title: words.audit.title,
          names: [impression, engine],
          rows: charted.map((c) => ({ label: c.label, marks: [mark(c.impression), mark(c.engine)] })),
        }).svg;
    return { id, chart, rows: named.map(({ row, label }) => rowFacts(row, label)) };
  };
  const tables = [
    table("proof", audit.byProof),
    table("band", audit.byBand),
    table("disorder", audit.byDisorder),
  ].filter(({ rows }) => rows.length > 0);
  const facts = {
    today,
    own: audit.own,
    visits: audit.visits,
    persons: audit.persons ?? 0,
    overall: audit.overall.of ? rowFacts(audit.overall, "") : null,
    tables,
    lasted: audit.lasted.map(({ what, count, median, lower, upper }) => ({
      what,
      shown: count !== null && median !== null,
      none: count === 0,
      count: count ?? 0,
      median: median ?? 0,
      lower: lower ?? 0,
      upper: upper ?? 0,
    })),
    notAssessed: audit.notAssessed.map(({ id, share }) => ({
      term: knowledge.findings[id]?.term ?? knowledge.facts[id]?.term ?? id,
      shown: share !== null,
      share: shareFacts(share),
    })),
    source: shortSource(knowledge.sources[INTERVAL_SOURCE]?.citation ?? INTERVAL_SOURCE),
  };
  return { facts, drawings };
}

const shareJson = (share: Share | null) =>
  share && { yes: share.yes, of: share.of, share: share.share, low: share.low, high: share.high };

const rowJson = ({ id, of, impression, engine }: AuditRow) => ({
  id,
  of,
  impression: shareJson(impression),
  engine: shareJson(engine),
});

/** Snake case; null where numbers are held back. */
export function auditJson(audit: Audit, today: string): object {
  return {
    today,
    own: audit.own,
    visits: audit.visits,
    persons: audit.persons,
    overall: rowJson(audit.overall),
    by_proof: audit.byProof.map(rowJson),
    by_band: audit.byBand.map(rowJson),
    by_disorder: audit.byDisorder.map(rowJson),
    lasted: audit.lasted,
    not_assessed: audit.notAssessed.map(({ id, share }) => ({ id, share: shareJson(share) })),
    interval: { kind: "Wilson, 95 %", source: INTERVAL_SOURCE },
  };
}

/** One row for each figure; empty where numbers are held back. */
export function auditCsv(audit: Audit): string {
  const share = (table: string, id: string, what: string, s: Share | null): Cell[] =>
    s
      ? [table, id, what, s.yes, s.of, s.share, s.low, s.high]
      : [table, id, what, null, null, null, null, null];
  const rows = (table: string, of: readonly AuditRow[]) =>
    of.flatMap((row) => [
      share(table, row.id, "impression agreed", row.impression),
      share(table, row.id, "engine agreed", row.engine),
    ]);
  return csvText([
    ["table", "group", "what", "count", "of", "value", "low", "high"],
    ...rows("overall", [audit.overall]),
    ...rows("proof", audit.byProof),
    ...rows("band", audit.byBand),
    ...rows("disorder", audit.byDisorder),
    ...audit.lasted.map((l): Cell[] => [
      "days",
      l.what,
      "median, quartiles",
      l.count,
      null,
      l.median,
      l.lower,
      l.upper,
    ]),
    ...audit.notAssessed.map((f) => share("findings", f.id, "not assessed", f.share)),
  ]);
}

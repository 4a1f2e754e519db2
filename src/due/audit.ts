/** A clinic's visits and register -> how often impression, engine and later proof agreed, and how long things took. */
import { groupBy } from "../base/group.js";
import { wilson } from "../measure/statistics/proportions.js";
import type { RegisterLine } from "../register/line.js";
import { type Days, linesOpen, middles, untilSent, untilSigned } from "./days.js";
import { disclosed, LEAST, mayShow } from "./disclose.js";
import { type Followed, followed, held, led, type Proof } from "./proof.js";
import { chainsOf, isRead, type ReadVisit, type WorkVisit } from "./visits.js";

/** Wilson's score interval (Newcombe 1998), 95 %. */
export const INTERVAL_SOURCE = "newcombe1998";

/** `yes` of `of`, as a fraction with its interval. */
export interface Share {
  readonly yes: number;
  readonly of: number;
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

/** Null where the numbers are held back. */
export interface AuditRow {
  readonly id: string;
  /** First visits with later proof. */
  readonly of: number | null;
  readonly impression: Share | null;
  readonly engine: Share | null;
}

export interface Lasted {
  readonly what: "line closed" | "line open" | "signed" | "sent";
  /** Null where there are too few to show; so are the rest. */
  readonly count: number | null;
  readonly median: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface Audit {
  readonly visits: number;
  /** Persons whose first visit holds no proof of its own. */
  readonly persons: number | null;
  /** True for the clinic's own copy, in which nothing is held back. */
  readonly own: boolean;
  readonly overall: AuditRow;
  /** By where the proof comes from. */
  readonly byProof: readonly AuditRow[];
  /** By how well the engine called its first disorder supported. */
  readonly byBand: readonly AuditRow[];
  /** By the disorder that was proven. */
  readonly byDisorder: readonly AuditRow[];
  readonly lasted: readonly Lasted[];
  /** Findings that would have mattered and were not assessed, by visits; the most often first. */
  readonly notAssessed: readonly { readonly id: string; readonly share: Share | null }[];
}

export interface AuditInput {
  readonly visits: readonly WorkVisit[];
  /** Lines of the register, or null where there is none. */
  readonly register: readonly RegisterLine[] | null;
  /** ISO date. */
  readonly today: string;
  readonly own: boolean;
}

/** Stands for the rows that are held back. */
export const OTHERS = "others";

const MOST_FINDINGS = 12;

export function audit({ visits, register, today, own }: AuditInput): Audit {
  const read = visits.filter(isRead).filter((v) => v.extract.identity.date <= today);
  const chains = chainsOf(read);
  const firsts = chains.flatMap((chain) => followed(chain) ?? []);
  const proven = firsts.flatMap(({ visit, proof }) => (proof ? [{ visit, proof }] : []));
  const table = (keyOf: (one: Proven) => string) => tableOf(groupBy(proven, keyOf), own);
  const byBand = table(({ visit }) => visit.extract.weighed.leading?.band ?? "not assessable");
  const byDisorder = table(countedAs);
  const byProof = table(({ proof }) => proof.by);
  const all = countsOf(proven);
  const mayTotal =
    own || (byBand.total && byDisorder.total && byProof.total && mayShow({ parts: partsOf(all) }));
  const { closed, open } = linesOpen(chains, today);
  return {
    visits: read.length,
    // Told only where those without proof are no small number either.
    persons: own || mayShow({ parts: [firsts.length, firsts.length - all.of] }) ? firsts.length : null,
    own,
    overall: rowOf("all", all, mayTotal),
    byProof: byProof.rows,
    byBand: byBand.rows,
    byDisorder: byDisorder.rows,
    lasted: [
      lastedOf("line closed", closed, own),
      lastedOf("line open", open, own),
      lastedOf("signed", untilSigned(read), own),
      lastedOf("sent", register ? untilSent(read, register) : [], own),
    ],
    notAssessed: missed(read, own),
  };
}

interface Proven extends Followed {
  readonly proof: Proof;
}

interface Counts {
  readonly of: number;
  readonly impression: number;
  readonly engine: number;
}

/** A visit counts once, under the disorder that impression or engine named, else under the first that the proof names. */
function countedAs({ visit, proof }: Proven): string {
  const named = [...held(visit), led(visit)];
  return proof.disorders.find((id) => named.includes(id)) ?? proof.disorders[0] ?? "";
}

function countsOf(group: readonly Proven[]): Counts {
  const agree = (named: (visit: ReadVisit) => readonly (string | null)[]) =>
    group.filter(({ visit, proof }) => named(visit).some((id) => id !== null && proof.disorders.includes(id)))
      .length;
  return { of: group.length, impression: agree(held), engine: agree((v) => [led(v)]) };
}

function tableOf(groups: ReadonlyMap<string, readonly Proven[]>, own: boolean) {
  const counted = [...groups]
    .map(([id, group]) => ({ id, counts: countsOf(group) }))
    .sort((a, b) => b.counts.of - a.counts.of || (a.id < b.id ? -1 : 1));
  const { shown: may, total } = disclosed(counted.map(({ id, counts }) => ({ id, parts: partsOf(counts) })));
  const told = counted
    .filter(({ id }) => own || may.has(id))
    .map(({ id, counts }) => rowOf(id, counts, true));
  // Even the name of a hidden row would tell that somebody stands in it.
  const rest = told.length < counted.length ? [rowOf(OTHERS, NOBODY, false)] : [];
  return { rows: [...told, ...rest], total };
}

const NOBODY: Counts = { of: 0, impression: 0, engine: 0 };

/** How many, and of both comparisons how many yes and no. */
function partsOf({ of, impression, engine }: Counts): number[] {
  return [of, impression, of - impression, engine, of - engine];
}

function rowOf(id: string, { of, impression, engine }: Counts, may: boolean): AuditRow {
  return may
    ? { id, of, impression: shareOf(impression, of), engine: shareOf(engine, of) }
    : { id, of: null, impression: null, engine: null };
}

function shareOf(yes: number, of: number): Share | null {
  return of === 0 ? null : { yes, of, share: yes / of, ...wilson(yes, of) };
}

function shown(count: number, own: boolean): number | null {
  return own || mayShow({ parts: [count] }) ? count : null;
}

function lastedOf(what: Lasted["what"], days: Days, own: boolean): Lasted {
  const found = own || days.length >= LEAST ? middles(days) : null;
  return {
    what,
    count: shown(days.length, own),
    median: found?.median ?? null,
    lower: found?.lower ?? null,
    upper: found?.upper ?? null,
  };
}

function missed(read: readonly ReadVisit[], own: boolean): Audit["notAssessed"] {
  const counts = new Map<string, number>();
  for (const { extract } of read)
    for (const id of extract.weighed.notAssessed) counts.set(id, (counts.get(id) ?? 0) + 1);
  return [...counts]
    .sort(([a, x], [b, y]) => y - x || (a < b ? -1 : 1))
    .slice(0, MOST_FINDINGS)
    .map(([id, yes]) => ({
      id,
      share:
        own || mayShow({ parts: [read.length, yes, read.length - yes] }) ? shareOf(yes, read.length) : null,
    }));
}

/** A visit made ready for questions: findings by site, free text by place, age and duration. */

import type { DisorderId, FindingId } from "../base/ids.js";
import { foldWord } from "../base/nearest.js";
import { MENTION_PLACES, type MentionPlace } from "../knowledge/condition.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Measures } from "../measure/types.js";
import { yearsBetween } from "../visit/calendar.js";
import type { ReadFact } from "../visit/prose/read-prose.js";
import { AMOUNTS, type Amount, type Seen, type Site, type Visit } from "../visit/visit.js";
import { type Clause, clauses } from "./clauses.js";
import { readingsOf, type StatedFacts, statedFacts } from "./fact-states.js";
import type { Band } from "./interpretation.js";

export interface Facts {
  readonly visit: Visit;
  readonly measures: Measures;
  readonly knowledge: Knowledge;
  /** Bands of the disorders, once they are known. */
  readonly bands?: Readonly<Record<DisorderId, Band>>;
  /** Per site, what was recorded of each finding. */
  readonly seen: readonly ReadonlyMap<FindingId, Seen>[];
  /** Whole years at the visit; NaN when the birth date cannot be read. */
  readonly age: number;
  /** Recorded answers, signs, exposures, patterns and medicines, by fact id. */
  readonly stated: StatedFacts;
  /** Facts whose answers of no are left out of account, to see what raised a line before it was answered. */
  readonly unanswered?: ReadonlySet<string>;
  /** Must-not-miss lines that stand open, once they are known. */
  readonly openLines?: readonly string[];
  /** What free text says of facts. */
  reads(): readonly ReadFact[];
  text(place: MentionPlace): readonly Clause[];
  /** All that tells what was found. */
  found(): readonly Clause[];
  /** Name and result of each recorded test. */
  tests(): readonly { readonly name: readonly Clause[]; readonly result: readonly Clause[] }[];
}

/** Text that says what is to be done or thought, not what was found: searched only when named. */
const NOT_UNLESS_NAMED: readonly MentionPlace[] = ["plan", "impression_notes", "test_results"];
const FOUND_PLACES = MENTION_PLACES.filter((p) => !NOT_UNLESS_NAMED.includes(p));

/** Prepares a visit for the condition judge; free text is split on first use. */
export function factsOf(visit: Visit, measures: Measures, knowledge: Knowledge): Facts {
  const texts = new Map<MentionPlace, readonly Clause[]>();
  const split = (text: string) => clauses(text, knowledge.weighing.denial);
  let tests: ReturnType<Facts["tests"]> | undefined;
  const text = (place: MentionPlace) => {
    let found = texts.get(place);
    if (!found) {
      found = written(visit, place).flatMap(split);
      texts.set(place, found);
    }
    return found;
  };
  return {
    visit,
    measures,
    knowledge,
    seen: seenAt(visit.sites),
    stated: statedFacts(visit, knowledge),
    reads: () => readingsOf(visit, knowledge),
    age: /^\d{4}-/u.test(visit.patient.born) ? yearsBetween(visit.patient.born, visit.date) : Number.NaN,
    text,
    found: foundIn(text),
    tests() {
      tests ??= visit.tests.map((t) => ({
        name: split(t.name),
        result: split([t.result ?? "", t.value ?? "", t.unit ?? ""].join(" ")),
      }));
      return tests;
    },
  };
}

/** The same facts as if the site alone had been examined. */
export function factsAt(facts: Facts, site: Site): Facts {
  const visit: Visit = { ...facts.visit, sites: [site] };
  const measured = facts.measures.measured.filter((m) => m.site === undefined || m.site === site.site);
  const notes = written(visit, "site_notes").flatMap((t) => clauses(t, facts.knowledge.weighing.denial));
  const text = (place: MentionPlace) => (place === "site_notes" ? notes : facts.text(place));
  let reads: readonly ReadFact[] | undefined;
  return {
    ...facts,
    visit,
    measures: { ...facts.measures, measured },
    seen: seenAt([site]),
    stated: statedFacts(visit, facts.knowledge),
    reads() {
      reads ??= readsAt(facts, site);
      return reads;
    },
    text,
    found: foundIn(text),
  };
}

/** What is told of the visit as a whole and of this site, which now stands first. */
function readsAt(facts: Facts, site: Site): readonly ReadFact[] {
  const own = `sites[${facts.visit.sites.indexOf(site)}].`;
  return facts
    .reads()
    .flatMap((r) =>
      r.where.startsWith(own)
        ? [{ ...r, where: r.where.replace(own, "sites[0].") }]
        : r.where.startsWith("sites[")
          ? []
          : [r],
    );
}

function foundIn(text: Facts["text"]): Facts["found"] {
  let found: readonly Clause[] | undefined;
  return () => {
    found ??= FOUND_PLACES.flatMap(text);
    return found;
  };
}

function seenAt(sites: readonly Site[]): Facts["seen"] {
  return sites.map((site) => new Map(site.findings.map((f) => [f.finding, f.seen])));
}

/** The same facts with bands, for cautions and activity. */
export function withBands(facts: Facts, bands: Readonly<Record<DisorderId, Band>>): Facts {
  return { ...facts, bands };
}

/** Rank of an amount from 1 (single) to 5 (throughout); a present finding without an amount ranks as `few`. */
export function amountRank(amount: Amount | null): number {
  return amount === null ? AMOUNTS.indexOf("few") + 1 : AMOUNTS.indexOf(amount) + 1;
}

/** True when a recorded region is the named one; `temporal` also stands for the left and the right one. */
export function inRegion(region: string, named: string): boolean {
  const folded = foldRegion(named);
  const here = foldRegion(region);
  return here === folded || here === `left ${folded}` || here === `right ${folded}`;
}

const foldedRegions = new Map<string, string>();

/** Regions are few and asked for often. */
function foldRegion(region: string): string {
  const folded = foldedRegions.get(region) ?? foldWord(region);
  foldedRegions.set(region, folded);
  return folded;
}

function written(visit: Visit, place: MentionPlace): readonly string[] {
  const { history: h, examination: e } = visit;
  const one = (text: string | undefined) => (text ? [text] : []);
  switch (place) {
    case "reason":
      return one(visit.reason);
    case "notes":
      return one(h.notes);
    case "family":
      return h.family;
    case "past":
      return h.past;
    case "medicines":
      return h.medicines.map((m) => m.name);
    case "triggers":
      return h.triggers;
    case "hair_care":
      return h.hairCare;
    case "contacts":
      return h.contacts;
    case "ancestry":
      return one(visit.patient.ancestry);
    case "scalp":
      return one(e.scalp);
    case "eyebrows":
      return one(e.eyebrows);
    case "eyelashes":
      return one(e.eyelashes);
    case "nails":
      return one(e.nails);
    case "skin":
      return one(e.skin);
    case "mouth":
      return one(e.mouth);
    case "lymph_nodes":
      return one(e.lymphNodes);
    case "body_hair":
      return one(e.bodyHair);
    case "site_notes":
      return visit.sites.flatMap((s) => one(s.notes));
    case "test_results":
      return visit.tests.flatMap((t) => one(t.result));
    case "plan":
      return visit.plan.map((p) => p.action);
    case "impression_notes":
      return visit.impression.flatMap((i) => one(i.note));
  }
}

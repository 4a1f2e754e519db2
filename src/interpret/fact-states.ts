/** What the visit says of each fact of the catalogue: by an answer, a sign, a medicine, or words in free text. */
import type { FactId } from "../base/ids.js";
import { nearestWords } from "../base/nearest.js";
import type { MentionPlace } from "../knowledge/condition.js";
import type { Fact, Knowledge } from "../knowledge/schema.js";
import { isPutOnSkin, onSkinOf } from "../visit/prose/on-skin.js";
import { type ProsePiece, type ReadFact, readProse } from "../visit/prose/read-prose.js";
import { foldProse, sentences } from "../visit/prose/tokens.js";
import type { Visit } from "../visit/visit.js";

/** One recorded answer, with its place in the visit file; a `site` where it stands at one. */
export interface Stated {
  readonly yes: boolean;
  readonly where: string;
  /** Name of the medicine that stands for its class. */
  readonly medicine?: string;
  readonly sinceWeeks?: number;
  readonly stoppedWeeks?: number;
  readonly site?: number;
}

export type StatedFacts = ReadonlyMap<FactId, readonly Stated[]>;

/** Answers, exposures, patterns, signs and classes of medicines, by fact id. */
export function statedFacts(visit: Visit, knowledge: Knowledge): StatedFacts {
  const all = new Map<FactId, Stated[]>();
  const add = (id: FactId, stated: Stated) => all.set(id, [...(all.get(id) ?? []), stated]);
  const { history, examination } = visit;
  for (const [id, yes] of Object.entries(visit.asked ?? {})) add(id, { yes, where: "asked" });
  for (const id of history.exposures ?? []) add(id, { yes: true, where: "history.exposures" });
  for (const id of examination.pattern ?? []) add(id, { yes: true, where: "examination.pattern" });
  for (const [id, yes] of Object.entries(examination.signs ?? {}))
    add(id, { yes, where: "examination.signs" });
  visit.sites.forEach((entry, site) => {
    for (const [id, yes] of Object.entries(entry.signs ?? {}))
      add(id, { yes, where: `sites[${site}].signs`, site });
  });
  history.medicines.forEach((medicine, i) => {
    const { name, sinceWeeks, stoppedWeeks } = medicine;
    const times = {
      ...(sinceWeeks === undefined ? {} : { sinceWeeks }),
      ...(stoppedWeeks === undefined ? {} : { stoppedWeeks }),
    };
    for (const id of medicineClasses(name, knowledge)) {
      const where = `history.medicines[${i}]`;
      add(id, { yes: true, where, medicine: name, ...times });
    }
  });
  return all;
}

/** A medicine begun fewer than so many weeks ago. */
export const isBegun = ({ medicine, sinceWeeks }: Stated, weeksUnder: number): boolean =>
  medicine !== undefined && sinceWeeks !== undefined && sinceWeeks < weeksUnder;

/** How many words before a medicine may tell to keep it away. */
const AWAY_REACH = 3;

/** Plan lines that mean to give a medicine of these classes, by the exact name of medicine or class; their places in the plan. */
export function plannedLines(classes: readonly string[], visit: Visit, knowledge: Knowledge): number[] {
  const names = namesOfClasses(classes, knowledge);
  return visit.plan.flatMap((line, i) =>
    !line.declined && clausesOf(line.action).some((clause) => givesOneOf(names, clause, knowledge))
      ? [i]
      : [],
  );
}

/** Many conditions ask the same few lines of a plan. */
const clauses = new Map<string, readonly string[]>();
const CLAUSES_KEPT = 500;

function clausesOf(action: string): readonly string[] {
  let found = clauses.get(action);
  if (!found) {
    found = action.split(/[.;:,]/u).map(foldedRow);
    if (clauses.size >= CLAUSES_KEPT) clauses.clear();
    clauses.set(action, found);
  }
  return found;
}

interface Names {
  readonly byClasses: Map<string, readonly string[]>;
  /** Words that keep a medicine away. */
  readonly away: ReadonlySet<string>;
}

const keptNames = new WeakMap<Knowledge, Names>();

function keptFor(knowledge: Knowledge): Names {
  let names = keptNames.get(knowledge);
  if (!names) {
    names = { byClasses: new Map(), away: new Set(knowledge.prose.keeps_a_medicine_away.map(foldProse)) };
    keptNames.set(knowledge, names);
  }
  return names;
}

/** Of medicines of these classes, and of the classes themselves. */
function namesOfClasses(classes: readonly string[], knowledge: Knowledge): readonly string[] {
  const { byClasses } = keptFor(knowledge);
  const key = classes.join(" ");
  let names = byClasses.get(key);
  if (!names) {
    const ofMedicine = [...namesOf(knowledge)].flatMap(([name, its]) =>
      its.classes.some((id) => classes.includes(id)) ? [name] : [],
    );
    const ofClass = classes.flatMap((id) => {
      const { term, also } = knowledge.facts[id] ?? { also: [] };
      return [term ?? id, ...also].map(foldProse);
    });
    names = [...ofMedicine, ...ofClass];
    byClasses.set(key, names);
  }
  return names;
}

function givesOneOf(names: readonly string[], row: string, knowledge: Knowledge): boolean {
  const { away } = keptFor(knowledge);
  return names.some((name) => {
    const at = row.indexOf(` ${name} `);
    if (at < 0) return false;
    const before = row.slice(0, at).trim().split(" ").slice(-AWAY_REACH);
    // `Do not stop` gives it after all.
    return before.filter((word) => away.has(word)).length % 2 === 0;
  });
}

const foldedRow = (written: string) =>
  ` ${written
    .split(/[\s,.;:()/]+/u)
    .map(foldProse)
    .join(" ")} `;

const exactNames = (row: string, knowledge: Knowledge): string[] =>
  [...namesOf(knowledge).keys()].filter((name) => row.includes(` ${name} `));

/** A medicine that counts for nothing where it is put on the skin, and is told of so. */
function countsForNothing(name: string, written: string, knowledge: Knowledge): boolean {
  const row = name.split(" ");
  if (!namesOf(knowledge).get(name)?.on_the_skin) return false;
  const words = onSkinOf(knowledge.prose);
  return sentences(written).some((sentence) =>
    sentence.some(
      (_, at) =>
        row.every((word, i) => sentence[at + i]?.word === word) &&
        isPutOnSkin(sentence, at, at + row.length - 1, words),
    ),
  );
}

/** The classes of a medicine as written: its name may stand among others words, with a slip, or under another name. */
export function medicineClasses(written: string, knowledge: Knowledge): readonly string[] {
  const names = namesOf(knowledge);
  const folded = foldedRow(written);
  const exact = exactNames(folded, knowledge);
  if (exact.length > 0)
    return [
      ...new Set(
        exact.flatMap((name) =>
          countsForNothing(name, written, knowledge) ? [] : (names.get(name)?.classes ?? []),
        ),
      ),
    ];
  const slips = folded
    .trim()
    .split(" ")
    .filter((word) => word.length >= 7);
  return [
    ...new Set(
      slips.flatMap((word) => {
        const found = nearestWords(
          word,
          [...names.keys()].filter((name) => near(name, word)),
        );
        return found.length === 1 ? (names.get(found[0] ?? "")?.classes ?? []) : [];
      }),
    ),
  ];
}

/** True for an entry of the list that says that none is taken. */
export const saysNone = (written: string): boolean => /^(?:none|nil|no)\b/iu.test(written.trim());

/** Words that do not say which medicine. */
const NOT_NAMED = /^(?:not|see|as before|unchanged|unknown|various|several)\b/iu;

/** For a medicine that the table does not hold under any name: the nearest names it does hold. */
export function unlistedMedicine(written: string, knowledge: Knowledge): readonly string[] | undefined {
  const names = namesOf(knowledge);
  if (saysNone(written) || NOT_NAMED.test(written.trim())) return undefined;
  const words = written.split(/[\s,;()/]+/u).map(foldProse);
  const whole = ` ${words.join(" ")} `;
  if ([...names.keys()].some((name) => whole.includes(` ${name} `))) return undefined;
  if (medicineClasses(written, knowledge).length > 0) return undefined;
  return nearestWords(words.find((w) => w.length >= 5) ?? "", [...names.keys()]).slice(0, 1);
}

/** Same beginning and about as long: near enough to be one name. */
const near = (name: string, word: string) =>
  !name.includes(" ") &&
  name.length >= 7 &&
  name.slice(0, 3) === word.slice(0, 3) &&
  Math.abs(name.length - word.length) <= 2;

type Medicine = Knowledge["medicines"][string];
const namesCache = new WeakMap<Knowledge, ReadonlyMap<string, Medicine>>();

function namesOf(knowledge: Knowledge): ReadonlyMap<string, Medicine> {
  const known = namesCache.get(knowledge);
  if (known) return known;
  const names = new Map<string, Medicine>();
  for (const [name, entry] of Object.entries(knowledge.medicines)) {
    for (const one of [name, ...entry.also]) names.set(one.split(/\s+/u).map(foldProse).join(" "), entry);
  }
  namesCache.set(knowledge, names);
  return names;
}

/** Free text of the visit that may tell of facts, each piece with its place; plan and impression tell of none. */
export function prosePieces(visit: Visit): ProsePiece[] {
  const { history: h, examination: e } = visit;
  const pieces: ProsePiece[] = [];
  const add = (where: string, place: MentionPlace, text: string | undefined) => {
    if (text) pieces.push({ where, place, text });
  };
  const list = (where: string, place: MentionPlace, items: readonly string[]) => {
    items.forEach((text, i) => {
      add(`${where}[${i}]`, place, text);
    });
  };
  add("visit.reason", "reason", visit.reason);
  list("history.family", "family", h.family);
  list("history.past", "past", h.past);
  list("history.medicines", "medicines", h.medicines.map(medicineWords));
  list("history.triggers", "triggers", h.triggers);
  list("history.hair_care", "hair_care", h.hairCare);
  list("history.contacts", "contacts", h.contacts);
  add("history.notes", "notes", h.notes);
  add("examination.scalp", "scalp", e.scalp);
  add("examination.eyebrows", "eyebrows", e.eyebrows);
  add("examination.eyelashes", "eyelashes", e.eyelashes);
  add("examination.nails", "nails", e.nails);
  add("examination.skin", "skin", e.skin);
  add("examination.mouth", "mouth", e.mouth);
  add("examination.lymph_nodes", "lymph_nodes", e.lymphNodes);
  add("examination.body_hair", "body_hair", e.bodyHair);
  visit.sites.forEach((site, i) => {
    add(`sites[${i}].notes`, "site_notes", site.notes);
  });
  visit.tests.forEach((test, i) => {
    if (test.result) add(`tests[${i}].result`, "test_results", `${test.name} ${test.result}`);
  });
  return pieces;
}

const medicineWords = ({ name, for: why }: Visit["history"]["medicines"][number]) =>
  why === undefined ? name : `${name} for ${why}`;

const readings = new WeakMap<Visit, { knowledge: Knowledge; reads: readonly ReadFact[] }>();

/** Every fact that the free text of a visit speaks of. */
export function readingsOf(visit: Visit, knowledge: Knowledge): readonly ReadFact[] {
  const known = readings.get(visit);
  if (known?.knowledge === knowledge) return known.reads;
  const reads = readProse(prosePieces(visit), knowledge, momentOf(visit));
  readings.set(visit, { knowledge, reads });
  return reads;
}

function momentOf(visit: Visit): { year: number; age?: number } {
  const year = Number.parseInt(visit.date, 10);
  const age = year - Number.parseInt(visit.patient.born, 10);
  return { year, ...(Number.isNaN(age) ? {} : { age }) };
}

/** True when words that put a fact so speak for it. What is left open speaks for it too: words may only raise. */
export function speaksFor(read: ReadFact, fact: Fact | undefined): boolean {
  if (read.state === "present" || read.state === "doubtful") return true;
  return (
    (read.state === "past" || read.state === "other person") && (fact?.counts.includes(read.state) ?? false)
  );
}

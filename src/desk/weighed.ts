/**
 * What the library says about an open visit: its problems, the weighing and the sheets. The weighing takes longest, so a
 * keystroke is answered with the last one and `settled: false`; the page then asks for the rest.
 */

import type { Outcome, Problem } from "../base/problem.js";
import { sha256 } from "../base/sha256.js";
import { addressees, replacing } from "../batch/make.js";
import { readPictures } from "../batch/pictures.js";
import { prepareVisit } from "../batch/prepare.js";
import type { Letter } from "../letter/document.js";
import { composeLetter } from "../letter/letter.js";
import { renderPdf } from "../page/pdf.js";
import type { Clinic } from "../visit/clinic.js";
import { inReadingOrder, placeProblems, type VisitRead } from "../visit/read.js";
import type { Recipient, Visit } from "../visit/visit.js";
import type { Desk } from "./desk.js";
import { HttpError } from "./http-error.js";
import { likelyFindings } from "./likely.js";
import { type Pane, SHEETS, type Sheet, type SheetPane, type Shown } from "./messages.js";
import { readAtDesk } from "./read-at-desk.js";
import type { Session, Weighed } from "./states.js";
import { oddCharacters } from "./unprintable.js";

export type { Weighed } from "./states.js";

export interface Said {
  readonly problems: readonly Problem[];
  readonly settled: boolean;
  readonly sheet: Sheet | null;
}

/** Documents that leave the clinic. */
const LEAVING: readonly SheetPane[] = ["letter", "handout"];

/**
 * How far a visit is looked into before it is answered: weighed anew; with the last weighing, if there was one; or only read where
 * it was never weighed, so that a form need not wait for anything.
 */
export type Depth = "weighed" | "last weighing" | "read";

export function say(session: Session, desk: Desk, shown: Shown, depth: Depth): Said {
  const read = readAtDesk(session.text, session.path, desk);
  const { clinic, problems: ofClinic } = desk.clinicOf(session.path);
  const visit = read.value;
  const before = ofSamePerson(session.weighed, visit);
  const isOther = before !== session.weighed;
  if (depth === "read" && visit && !before)
    return {
      problems: ordered([
        ...ofClinic,
        ...read.problems,
        ...oddCharacters(session.text, session.path, clinic),
      ]),
      settled: false,
      sheet: null,
    };
  if (depth !== "weighed" && visit && before && visit.sites.length === before.examined.visit.sites.length) {
    session.weighed = { ...before, examined: { ...before.examined, visit } };
    return {
      problems: ordered([
        ...ofClinic,
        ...read.problems,
        ...oddCharacters(session.text, session.path, clinic),
        ...before.later,
      ]),
      settled: keyOf(visit) === before.key && !isOther,
      sheet: sheetOf(session, desk, shown, false),
    };
  }
  const { weighed, problems } = weighText(session.text, session.path, desk, read);
  const kept = weighed ?? before;
  if (kept) session.weighed = kept;
  return { problems, settled: true, sheet: sheetOf(session, desk, shown, weighed === undefined) };
}

/** What was weighed before, without the earlier visits once the sheet names another person: they may be somebody else's. */
function ofSamePerson(before: Weighed | undefined, visit: Visit | undefined): Weighed | undefined {
  if (!before || !visit || personOf(visit) === personOf(before.examined.visit)) return before;
  const { change: _, ...rest } = before;
  return { ...rest, examined: { ...before.examined, visit }, earlier: [] };
}

function personOf({ patient: { id, name, born, sex } }: Visit): string {
  return JSON.stringify([id, name.given, name.family, born, sex]);
}

/** Everything that would keep the two documents from being made of this text, and everything worth a look. */
export function weighText(
  text: string,
  path: string,
  desk: Desk,
  read: VisitRead = readAtDesk(text, path, desk),
): { weighed?: Weighed; problems: readonly Problem[] } {
  const { weighed, problems } = weighRead(read, path, desk);
  const odd = oddCharacters(text, path, desk.clinicOf(path).clinic);
  return { ...(weighed ? { weighed } : {}), problems: ordered([...problems, ...odd]) };
}

function weighRead(
  read: VisitRead,
  path: string,
  desk: Desk,
): { weighed?: Weighed; problems: readonly Problem[] } {
  const { clinic, problems: ofClinic } = desk.clinicOf(path);
  const { visits, people } = desk.folderLook.around(path);
  const result = prepareVisit({
    file: path,
    read,
    beside: visits.beside(path),
    whose: people.problems(path),
    reader: desk.reader(),
    ...(read.value ? desk.registers.told(path, read.value, desk.knowledge) : {}),
    ...(clinic ? { clinic } : {}),
  });
  if (!result.value) return { problems: ordered([...ofClinic, ...result.problems]) };
  const { examined, earlier, change, editions } = result.value;
  const { visit } = examined;
  const drawn = clinic ? readPictures(path, visit, clinic) : undefined;
  const alone: Weighed = {
    key: keyOf(visit),
    examined,
    earlier,
    later: [
      ...result.problems.slice(read.problems.length),
      ...placeProblems(examined.places, drawn?.problems ?? []),
    ],
    offered: likelyFindings(visit, examined.measures, examined.interpretation, desk.knowledge),
    ...(change ? { change } : {}),
    ...(drawn ? { pictures: drawn.pictures } : {}),
    ...(editions ? { editions } : {}),
  };
  const later = [...alone.later, ...(clinic ? composingProblems(alone, clinic, desk) : [])];
  const weighed = { ...alone, later };
  // What was composed to be tried is what the page shows.
  letters.set(weighed, letters.get(alone) ?? new Map());
  return { weighed, problems: ordered([...ofClinic, ...read.problems, ...weighed.later]) };
}

/** Of the letter to each of its readers, and of the handout. */
function composingProblems(weighed: Weighed, clinic: Clinic, desk: Desk): readonly Problem[] {
  return LEAVING.flatMap((pane) =>
    readersOf(pane, weighed.examined.visit).flatMap((own, reader) =>
      pane === "letter" && own === null
        ? // Made for nobody, which is what keeps it from being made.
          composeLetter(SHEETS[pane], { ...weighed.examined, clinic, knowledge: desk.knowledge }).problems
        : composed(weighed, clinic, desk, pane, reader).problems,
    ),
  );
}

/** Stands on the sheet, never on a document, until somebody is named to send the letter to. */
const NOBODY_YET: Recipient = { role: "", name: "(nobody named yet)", address: [], copy: false };

const isSheet = (pane: Pane): pane is SheetPane => Object.hasOwn(SHEETS, pane);

/** Each reader of a pane's document; null alone for one without an address, and while a letter has no reader yet. */
function readersOf(pane: SheetPane, { sendTo }: Visit): readonly (Recipient | null)[] {
  const readers = pane === "letter" ? addressees(sendTo) : [];
  return readers.length > 0 ? readers : [null];
}

function sheetOf(session: Session, desk: Desk, { pane, reader = 0 }: Shown, stale: boolean): Sheet | null {
  if (!isSheet(pane)) return null;
  const all = session.weighed ? readersOf(pane, session.weighed.examined.visit) : [];
  const readers = all.flatMap((one) => (one ? [`${one.name}${one.copy ? " (copy)" : ""}`] : []));
  const letter = letterOf(session, desk, pane, reader);
  const sheet = { kind: pane, stale, readers, reader: reader < all.length ? reader : 0 };
  if (!letter) return { ...sheet, key: null };
  const { photos, ...content } = letter;
  return { ...sheet, key: sha256(JSON.stringify([content, Object.keys(photos)])).slice(0, 24) };
}

function letterOf({ weighed, path }: Session, desk: Desk, pane: SheetPane, reader = 0): Letter | undefined {
  const { clinic } = desk.clinicOf(path);
  return weighed && clinic ? composed(weighed, clinic, desk, pane, reader).value : undefined;
}

/** Each document of what was weighed, composed once: the bytes on show are made of the very letter that was tried and told. */
const letters = new WeakMap<
  Weighed,
  Map<string, { readonly by: Clinic; readonly outcome: Outcome<Letter> }>
>();

function composed(
  weighed: Weighed,
  clinic: Clinic,
  desk: Desk,
  pane: SheetPane,
  reader: number,
): Outcome<Letter> {
  const { examined, change, pictures, editions } = weighed;
  const all = readersOf(pane, examined.visit);
  const place = reader < all.length ? reader : 0;
  const own = all[place] ?? null;
  const known = letters.get(weighed) ?? new Map();
  letters.set(weighed, known);
  const before = known.get(`${pane} ${place}`);
  if (before?.by === clinic) return before.outcome;
  const recipient = own ?? (pane === "letter" ? NOBODY_YET : null);
  const outcome = composeLetter(SHEETS[pane], {
    ...examined,
    clinic,
    knowledge: desk.knowledge,
    ...(change ? { change } : {}),
    ...(pictures ? { pictures } : {}),
    ...(recipient ? { recipient } : {}),
    ...replacing(examined.visit, editions, own),
  });
  known.set(`${pane} ${place}`, { by: clinic, outcome });
  return outcome;
}

/** The document as it would be printed now: the bytes that Make writes for the same visit. Throws Refused with what will not print. */
export async function printedSheet(
  session: Session,
  desk: Desk,
  { pane, reader }: Shown,
): Promise<Uint8Array> {
  const letter = isSheet(pane) ? letterOf(session, desk, pane, reader) : undefined;
  if (!letter) throw new HttpError(404, "There is no such document yet.");
  const { value, problems } = await renderPdf(letter);
  if (!value) throw new HttpError(422, "This cannot be printed.", problems);
  return value.bytes;
}

/** What keeps the letters and the handout of a weighed visit from being printed, word by word. */
export async function printProblems(session: Session, desk: Desk): Promise<readonly Problem[]> {
  const found: Problem[] = [];
  const visit = session.weighed?.examined.visit;
  for (const pane of visit ? LEAVING : [])
    for (const reader of visit ? readersOf(pane, visit).keys() : []) {
      const letter = letterOf(session, desk, pane, reader);
      if (letter) found.push(...(await renderPdf(letter)).problems);
    }
  return ordered(found);
}

/** The patient's name and address, and who does what by when, are printed and never weighed; what a line of the plan answers is. */
function keyOf(visit: Visit): string {
  const { patient, plan, ...rest } = visit;
  const { name, address, ...person } = patient;
  return JSON.stringify({
    ...rest,
    patient: person,
    plan: plan.map(({ action, answers, declined }) => ({ action, answers, declined })),
  });
}

/** In reading order, each told once: the graver of two words on one thing stands. */
function ordered(problems: readonly Problem[]): Problem[] {
  const severities = new Map<string, Problem["severity"]>();
  const told = new Set<string>();
  return inReadingOrder(problems).filter(({ id, path, line, message, severity }) => {
    const thing = path === undefined ? `${id} ${line ?? ""} ${message}` : `${id} ${path}`;
    const before = severities.get(thing);
    if ((before !== undefined && before !== severity) || told.has(`${thing} ${message}`)) return false;
    severities.set(thing, severity);
    told.add(`${thing} ${message}`);
    return true;
  });
}

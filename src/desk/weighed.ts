/**
 * What the library says about an open visit: its problems, the weighing and the sheets. The weighing takes longest, so a
 * keystroke is answered with the last one and `settled: false`; the page then asks for the rest.
 */
import { hasError, type Problem } from "../base/problem.js";
import { type Examined, examineRead } from "../batch/examine.js";
import { composeLetter } from "../letter/letter.js";
import { renderHtml } from "../page/html.js";
import type { Clinic } from "../visit/clinic.js";
import { inReadingOrder, parseVisit } from "../visit/read.js";
import type { Recipient, Visit } from "../visit/visit.js";
import type { Desk } from "./desk.js";
import type { Pane, Sheet } from "./messages.js";
import type { Session } from "./session.js";

export interface Weighed {
  /** The visit without what the weighing does not look at. */
  readonly key: string;
  readonly examined: Examined;
  /** What was said beyond the reading of the file. */
  readonly later: readonly Problem[];
  readonly earlier: readonly Visit[];
}

export interface Said {
  readonly problems: readonly Problem[];
  readonly visit?: Visit;
  readonly settled: boolean;
  readonly sheet: Sheet | null;
}

const DOCUMENT = { letter: "referral-letter", handout: "handout" } as const;

/** What can be said of the text at once; `full` waits for the weighing. */
export function say(
  session: Session,
  desk: Desk,
  pane: Pane,
  earlierOf: (visit: Visit) => readonly Visit[],
  full: boolean,
): Said {
  const read = parseVisit(session.text, session.path, desk.knowledge, { today: desk.today() });
  const { clinic, problems: ofClinic } = desk.clinicOf(session.path);
  const visit = read.value;
  const before = session.weighed;
  if (!visit)
    return {
      problems: ordered([...ofClinic, ...read.problems]),
      settled: true,
      sheet: sheetOf(session, clinic, desk, pane, true),
    };
  if (!full && before && visit.sites.length === before.examined.visit.sites.length) {
    session.weighed = { ...before, examined: { ...before.examined, visit } };
    return {
      problems: ordered([...ofClinic, ...read.problems, ...before.later]),
      visit,
      settled: keyOf(visit) === before.key,
      sheet: sheetOf(session, clinic, desk, pane, false),
    };
  }
  const earlier = earlierOf(visit);
  const result = examineRead(session.path, read, {
    knowledge: desk.knowledge,
    today: desk.today(),
    earlier,
    ...(clinic ? { clinic } : {}),
  });
  const later = result.problems.slice(read.problems.length);
  if (!result.value)
    return {
      problems: ordered([...ofClinic, ...result.problems]),
      visit,
      settled: true,
      sheet: sheetOf(session, clinic, desk, pane, true),
    };
  session.weighed = { key: keyOf(visit), examined: result.value, later, earlier };
  const composing = clinic ? composingProblems(session.weighed.examined, clinic, desk) : [];
  session.weighed = { ...session.weighed, later: [...later, ...composing] };
  return {
    problems: ordered([...ofClinic, ...read.problems, ...session.weighed.later]),
    visit,
    settled: true,
    sheet: sheetOf(session, clinic, desk, pane, false),
  };
}

/** Everything that would keep the two documents from being made of this text, and everything worth a look. */
export function sayOfText(
  text: string,
  path: string,
  desk: Desk,
): { examined?: Examined; problems: readonly Problem[] } {
  const { clinic, problems: ofClinic } = desk.clinicOf(path);
  const read = parseVisit(text, path, desk.knowledge, { today: desk.today() });
  const result = examineRead(path, read, {
    knowledge: desk.knowledge,
    today: desk.today(),
    ...(clinic ? { clinic } : {}),
  });
  const composing = result.value && clinic ? composingProblems(result.value, clinic, desk) : [];
  const problems = ordered([...ofClinic, ...result.problems, ...composing]);
  return result.value && !hasError(problems) ? { examined: result.value, problems } : { problems };
}

function composingProblems(examined: Examined, clinic: Clinic, desk: Desk): Problem[] {
  return Object.values(DOCUMENT).flatMap((kind) =>
    composeLetter(kind, { ...examined, clinic, knowledge: desk.knowledge }).problems.map((p) => ({
      file: examined.file,
      ...p,
    })),
  );
}

/** Stands on the sheet, never on a document, until somebody is named to send the letter to. */
const NOBODY_YET: Recipient = { role: "", name: "(nobody named yet)", address: [], copy: false };

function sheetOf(
  session: Session,
  clinic: Clinic | undefined,
  desk: Desk,
  pane: Pane,
  stale: boolean,
): Sheet | null {
  if (pane !== "letter" && pane !== "handout") return null;
  const { weighed } = session;
  if (!weighed || !clinic) return { kind: pane, html: null, stale };
  const nobody = weighed.examined.visit.sendTo.length === 0 ? { recipient: NOBODY_YET } : {};
  const facts = { ...weighed.examined, clinic, knowledge: desk.knowledge, ...nobody };
  const { value } = composeLetter(DOCUMENT[pane], facts);
  return { kind: pane, html: value ? renderHtml(value) : null, stale };
}

/** The patient's name and address, and who does what by when, are printed and never weighed. */
function keyOf(visit: Visit): string {
  const { patient, plan, ...rest } = visit;
  const { name, address, ...person } = patient;
  return JSON.stringify({ ...rest, patient: person, plan: plan.map(({ action }) => action) });
}

/** In reading order, each told once: the graver of two words on one thing stands. */
function ordered(problems: readonly Problem[]): Problem[] {
  const seen = new Set<string>();
  return inReadingOrder(problems).filter(({ id, path, line, message }) => {
    const key = path === undefined ? `${id} ${line ?? ""} ${message}` : `${id} ${path}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

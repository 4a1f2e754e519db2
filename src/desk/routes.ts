/** Requests of the page -> what the desk does. Each takes a strictly read body and returns plain data. */
import { setTimeout } from "node:timers/promises";
import type { Desk } from "./desk.js";
import { deskWords } from "./desk-words.js";
import { writtenIn } from "./edit-yaml.js";
import { exported, locked, queue } from "./give.js";
import { Documents, makeLetters } from "./letters.js";
import type { Edit, GivenFile, ListAnswer, Pane, VisitState } from "./messages.js";
import { beginVisit } from "./new-visit.js";
import { asked } from "./parse-request.js";
import { Photos } from "./photos.js";
import { scoreResults } from "./results.js";
import { hashOf, isSigned, type Session, Sessions } from "./session.js";
import { checkSigning, registerSigning, reopening, signing, signingOf } from "./signing.js";
import { printedSheet, say } from "./weighed.js";

const ANSWER_WITHIN_MS = 400;

export type Body = Readonly<Record<string, unknown>>;

export interface Routes {
  readonly get: Readonly<Record<string, () => object | Promise<object>>>;
  readonly post: Readonly<Record<string, (body: Body) => object | Promise<object>>>;
  /** Files that the browser keeps. */
  readonly files: Readonly<Record<string, (body: Body) => Promise<GivenFile>>>;
  /** The bytes of the pane's document as it would be printed now. */
  readonly sheet: (body: Body) => Promise<Uint8Array>;
  readonly photos: Photos;
  /** The bytes of a document that was made, by its link. */
  readonly document: (ticket: string) => Uint8Array;
}

export function routesOf(desk: Desk): Routes {
  const sessions = new Sessions(desk);
  const documents = new Documents(desk);
  const state = (session: Session, pane: Pane, full: boolean): VisitState =>
    stateOf(desk, documents, session, pane, full);
  return {
    get: {
      words: async () => {
        // The next number and the recipients come from the list.
        await listed(desk);
        return deskWords(desk);
      },
      visits: () => listed(desk),
      waiting: () => desk.work.answer(),
    },
    post: {
      open: (body) => {
        const { file, pane } = asked("open", body);
        return state(sessions.take(file), pane, true);
      },
      peek: (body) => sessions.peek(asked("peek", body).file),
      edit: (body) => {
        const { file, base, edits, pane } = asked("edit", body);
        return state(sessions.edit(file, base, edits), pane, false);
      },
      settle: (body) => {
        const { file, pane } = asked("settle", body);
        return state(sessions.take(file), pane, true);
      },
      undo: (body) => {
        const { file, base, pane } = asked("step", body);
        return state(sessions.undo(file, base), pane, true);
      },
      redo: (body) => {
        const { file, base, pane } = asked("step", body);
        return state(sessions.redo(file, base), pane, true);
      },
      signing: (body) => {
        const { file, base } = asked("signing", body);
        return signingOf(sessions.at(file, base), desk);
      },
      sign: async (body) => {
        const { file, base, by, digest, pane } = asked("sign", body);
        const session = sessions.at(file, base);
        await checkSigning(session, desk, by, digest);
        const signed = sessions.setStatus(file, base, signing(session, desk, by, new Date()));
        registerSigning(signed, desk);
        return state(signed, pane, true);
      },
      reopen: (body) => {
        const { file, base, reason, pane } = asked("reopen", body);
        const session = sessions.at(file, base);
        const edits: Edit[] = reopening(session.text, reason);
        return state(sessions.setStatus(file, base, edits), pane, true);
      },
      restore: (body) => {
        const { file, pane, written } = asked("restore", body);
        return state(sessions.restore(file, written), pane, true);
      },
      make: async (body) => {
        const { file, pane } = asked("settle", body);
        const session = sessions.take(file);
        await makeLetters(desk, session.path, session.text);
        return state(session, pane, true);
      },
      new: (body) => ({ file: beginVisit(desk, asked("new", body)) }),
    },
    files: {
      export: (body) => {
        const { file, base, as } = asked("export", body);
        return exported(sessions.at(file, base), desk, as);
      },
      locked: async (body) => {
        const { link, password } = asked("locked", body);
        const [, ticket = "", name = ""] = /^\/document\/([\w-]{32})\/(.+)$/u.exec(link) ?? [];
        return locked(documents.read(ticket), decodeURIComponent(name), password);
      },
      queue: (body) => queue(desk, asked("queue", body).files),
    },
    sheet: (body) => {
      const { file, pane } = asked("open", body);
      return printedSheet(sessions.shown(file), desk, pane);
    },
    photos: new Photos(desk),
    document: (ticket) => documents.read(ticket),
  };
}

/** A first look at thousands of visits takes seconds; a request is answered long before with how far it is. */
async function listed(desk: Desk): Promise<ListAnswer> {
  const list = desk.list.all().then((visits) => ({ visits }));
  const soon = setTimeout(ANSWER_WITHIN_MS, undefined, { ref: false });
  return (await Promise.race([list, soon])) ?? desk.list.progress();
}

function stateOf(desk: Desk, documents: Documents, session: Session, pane: Pane, full: boolean): VisitState {
  const said = say(session, desk, pane, full);
  const interpretation = session.weighed?.examined.interpretation;
  return {
    file: session.file,
    hash: hashOf(session.text),
    written: writtenIn(session.text),
    signed: isSigned(session.text),
    problems: said.problems,
    reasoning: pane === "reasoning" ? (interpretation ?? null) : null,
    settled: said.settled,
    sheet: said.sheet,
    canUndo: session.undo.length > 0 && !(isSigned(session.text) && !isSigned(session.undo.at(-1) ?? "")),
    canRedo: session.redo.length > 0,
    made: documents.of(session.path, session.text),
    earlier: session.weighed?.earlier ?? [],
    mustNotMiss: interpretation?.mustNotMiss ?? [],
    askedFor: interpretation?.askedFor ?? [],
    readFromWords: interpretation?.readFromWords ?? [],
    results: session.weighed ? scoreResults(session.weighed.examined.measures, desk.knowledge) : {},
    likely: session.weighed?.offered.likely ?? {},
    usual: session.weighed?.offered.usual ?? [],
  };
}

/** Requests of the page -> what the desk does. Each takes a strictly read body and returns plain data. */
import { hasError } from "../base/problem.js";
import { asked } from "./asked.js";
import type { Desk } from "./desk.js";
import { deskWords } from "./desk-words.js";
import { writtenIn } from "./edit-yaml.js";
import { visitPath } from "./folder.js";
import { madeOf, makeLetters, readLetter } from "./letters.js";
import type { Pane, VisitState } from "./messages.js";
import { beginVisit } from "./new-visit.js";
import { Refused } from "./refused.js";
import { hashOf, isSigned, type Session, Sessions } from "./session.js";
import { mapIn, VisitList, wordIn } from "./visit-list.js";
import { say, weighText } from "./weighed.js";

export type Body = Readonly<Record<string, unknown>>;

export interface Routes {
  readonly get: Readonly<Record<string, () => object>>;
  readonly post: Readonly<Record<string, (body: Body) => object | Promise<object>>>;
  readonly letter: (file: string, name: string) => Uint8Array;
}

export function routesOf(desk: Desk): Routes {
  const sessions = new Sessions(desk);
  const list = new VisitList(desk);
  const state = (session: Session, pane: Pane, full: boolean): VisitState =>
    stateOf(desk, session, pane, full);
  const status = (body: Body, to: "draft" | "signed") => {
    const { file, base, pane } = asked("step", body);
    const path = visitPath(desk.folder, file);
    const session = sessions.setStatus(file, base, to, (text) => {
      if (to === "draft") return;
      const { problems } = weighText(text, path, desk);
      if (hasError(problems)) throw new Refused(422, "The visit cannot be signed yet.", problems);
    });
    return state(session, pane, true);
  };
  return {
    get: {
      words: () => deskWords(desk, list),
      visits: () => ({ visits: list.all() }),
    },
    post: {
      open: (body) => {
        const { file, pane } = asked("open", body);
        return state(sessions.take(file), pane, true);
      },
      peek: (body) => sessions.peek(asked("peek", body).file),
      edit: (body) => {
        const { file, base, edits, pane, over } = asked("edit", body);
        return state(sessions.edit(file, base, edits, over), pane, false);
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
      sign: (body) => status(body, "signed"),
      reopen: (body) => status(body, "draft"),
      make: async (body) => {
        const { file, pane } = asked("settle", body);
        const session = sessions.take(file);
        await makeLetters(desk, session.path, session.text);
        return state(session, pane, true);
      },
      new: (body) => ({ file: beginVisit(desk, asked("new", body)) }),
    },
    letter: (file, name) => {
      const { path, text } = sessions.take(file);
      return readLetter(desk, path, visitId(text), name);
    },
  };
}

const visitId = (text: string): string => wordIn(mapIn(writtenIn(text), "visit"), "id");

function stateOf(desk: Desk, session: Session, pane: Pane, full: boolean): VisitState {
  const said = say(session, desk, pane, full);
  return {
    file: session.file,
    hash: hashOf(session.text),
    written: writtenIn(session.text),
    signed: isSigned(session.text),
    problems: said.problems,
    reasoning: pane === "reasoning" ? (session.weighed?.examined.interpretation ?? null) : null,
    settled: said.settled,
    sheet: said.sheet,
    canUndo: session.undo.length > 0,
    canRedo: session.redo.length > 0,
    made: madeOf(session.path, visitId(session.text)),
    earlier: session.weighed?.earlier ?? [],
  };
}

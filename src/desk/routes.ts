/** Requests of the page -> what the desk does. Each takes a strictly read body and returns plain data. */
import { setTimeout } from "node:timers/promises";
import { ClinicSetup } from "./clinic-setup.js";
import type { Desk } from "./desk.js";
import { deskWords } from "./desk-words.js";
import { writtenIn } from "./edit-yaml.js";
import { draft, exported, locked, queue } from "./give.js";
import { HttpError } from "./http-error.js";
import { documentsOf, markLeft } from "./left.js";
import { Documents, makeLetters } from "./letters.js";
import type { ListAnswer, ListAsked } from "./list-messages.js";
import type { Edit, GivenFile, Shown, SigningAsked, VisitState } from "./messages.js";
import { beginVisit } from "./new-visit.js";
import { asked } from "./parse-request.js";
import { Photos } from "./photos.js";
import { scoreResults } from "./results.js";
import { hashOf, isSigned, type Session, Sessions } from "./session.js";
import { checkSigning, editionNow, registerSigning, reopening, signing, signingOf } from "./signing.js";
import { takeTable, tryTable } from "./table-in.js";
import { putAside, renameVisit, takeBack, visitsAside } from "./visit-file.js";
import { type Depth, printedSheet, say } from "./weighed.js";

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
  const setup = new ClinicSetup(desk);
  const state = (session: Session, shown: Shown, depth: Depth): VisitState =>
    stateOf(desk, documents, session, shown, depth);
  return {
    get: {
      words: async () => {
        // The next number and the recipients come from the list.
        if (!desk.list.isKnown()) await listed(desk, { find: "", most: 1, now: true });
        return deskWords(desk);
      },
      clinic: () => setup.state(),
      aside: () => ({ visits: visitsAside(desk) }),
    },
    post: {
      list: (body) => listed(desk, asked("list", body)),
      waiting: (body) => desk.work.answer(asked("waiting", body).most),
      open: (body) => {
        const { file, ...shown } = asked("open", body);
        return state(sessions.take(file), shown, "weighed");
      },
      // The form stands there at once; the page asks for the rest of it.
      form: (body) => {
        const { file, ...shown } = asked("open", body);
        return state(sessions.take(file), shown, "read");
      },
      peek: (body) => sessions.peek(asked("peek", body).file),
      edit: (body) => {
        const { file, base, edits, ...shown } = asked("edit", body);
        // Whoever looks at the reasoning waits for it; beside a letter it comes once the hand rests.
        return state(
          sessions.edit(file, base, edits),
          shown,
          shown.pane === "reasoning" ? "weighed" : "last weighing",
        );
      },
      settle: (body) => {
        const { file, ...shown } = asked("settle", body);
        return state(sessions.take(file), shown, "weighed");
      },
      undo: (body) => {
        const { file, base, ...shown } = asked("step", body);
        return state(sessions.undo(file, base), shown, "weighed");
      },
      redo: (body) => {
        const { file, base, ...shown } = asked("step", body);
        return state(sessions.redo(file, base), shown, "weighed");
      },
      signing: async (body) => {
        const { file, base } = asked("signing", body);
        const session = sessions.at(file, base);
        return { ...(await signingOf(session, desk)), ...editionNow(session, desk) } satisfies SigningAsked;
      },
      sign: async (body) => {
        const { file, base, by, digest, reason, ...shown } = asked("sign", body);
        const session = sessions.at(file, base);
        await checkSigning(session, desk, by, digest);
        const { edition, needsReason } = editionNow(session, desk);
        if (needsReason && reason === undefined)
          throw new HttpError(422, `This is edition ${edition}: say why it replaces the one before.`);
        const signed = sessions.setStatus(file, base, signing(session, desk, by, new Date(), reason));
        registerSigning(signed, desk);
        return state(signed, shown, "weighed");
      },
      reopen: (body) => {
        const { file, base, reason, ...shown } = asked("reopen", body);
        const session = sessions.at(file, base);
        const edits: Edit[] = reopening(session.text, reason);
        return state(sessions.setStatus(file, base, edits), shown, "weighed");
      },
      restore: (body) => {
        const { file, written, ...shown } = asked("restore", body);
        return state(sessions.restore(file, written), shown, "weighed");
      },
      make: async (body) => {
        const { file, ...shown } = asked("settle", body);
        const session = sessions.take(file);
        await makeLetters(desk, session.path, session.text);
        return state(session, shown, "weighed");
      },
      rename: async (body) => {
        const { file, base, to } = asked("rename", body);
        const session = sessions.at(file, base);
        const name = renameVisit(session, desk, to);
        sessions.forget(session);
        await desk.list.look();
        return { file: name };
      },
      "put-aside": async (body) => {
        const { file, base } = asked("signing", body);
        const session = sessions.at(file, base);
        putAside(session, desk);
        sessions.forget(session);
        await desk.list.look();
        return {};
      },
      "take-back": async (body) => {
        const file = takeBack(desk, asked("takeBack", body).lies);
        await desk.list.look();
        return { file };
      },
      "table-try": (body) => tryTable(desk, asked("table", body)),
      "table-take": async (body) => {
        const taken = await takeTable(desk, asked("table", body));
        await desk.list.look();
        return taken;
      },
      new: (body) => ({ file: beginVisit(desk, asked("new", body)) }),
      left: (body) => ({ documents: documentsOf(sessions.take(asked("peek", body).file), desk) }),
      "mark-left": (body) => {
        const { file, ...marked } = asked("markLeft", body);
        return { documents: markLeft(sessions.take(file), desk, marked) };
      },
      "clinic-try": (body) => setup.tried(asked("clinicTry", body).edits),
      "clinic-save": (body) => {
        const { base, edits } = asked("clinicSave", body);
        return setup.save(base, edits);
      },
      "clinic-logo": (body) => {
        const { name, bytes } = asked("clinicLogo", body);
        return setup.addLogo(name, Buffer.from(bytes, "base64"));
      },
    },
    files: {
      export: (body) => {
        const { file, base, as, reader } = asked("export", body);
        return exported(sessions.at(file, base), desk, as, reader);
      },
      draft: (body) => {
        const { file, base, ...how } = asked("draft", body);
        return draft(sessions.at(file, base), desk, how);
      },
      "clinic-sheet": async (body) => {
        const { edits, show } = asked("clinicSheet", body);
        return show === "letter"
          ? { name: "letter.pdf", bytes: await setup.letter(edits) }
          : { name: "envelope-window-test.pdf", bytes: await setup.window(edits) };
      },
      locked: async (body) => {
        const { link, password } = asked("locked", body);
        const [, ticket = "", name = ""] = /^\/document\/([\w-]{32})\/(.+)$/u.exec(link) ?? [];
        return locked(documents.read(ticket), decodeURIComponent(name), password);
      },
      queue: (body) => queue(desk, asked("queue", body).files),
    },
    sheet: (body) => {
      const { file, ...shown } = asked("open", body);
      return printedSheet(sessions.shown(file), desk, shown);
    },
    photos: new Photos(desk),
    document: (ticket) => documents.read(ticket),
  };
}

/** A first look at thousands of visits takes seconds; a request is answered long before with how far it is. */
async function listed(desk: Desk, wanted: ListAsked): Promise<ListAnswer> {
  if (!wanted.now && desk.list.isKnown()) return desk.list.find(wanted);
  const list = desk.list.look().then(() => desk.list.find(wanted));
  const soon = setTimeout(ANSWER_WITHIN_MS, undefined, { ref: false });
  return (await Promise.race([list, soon])) ?? desk.list.progress();
}

function stateOf(desk: Desk, documents: Documents, session: Session, shown: Shown, depth: Depth): VisitState {
  const said = say(session, desk, shown, depth);
  const interpretation = session.weighed?.examined.interpretation;
  return {
    file: session.file,
    hash: hashOf(session.text),
    written: writtenIn(session.text),
    signed: isSigned(session.text),
    problems: said.problems,
    reasoning: shown.pane === "reasoning" ? (interpretation ?? null) : null,
    settled: said.settled,
    isUnweighed: !said.settled && !interpretation,
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

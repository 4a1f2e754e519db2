/** The first page: visits of today, what waits, and every visit of the folder by any part of what names it. */
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { type ListAsked, type ListedVisit, STATES, type VisitsFound } from "../list-messages.js";
import { AsideDialog } from "./aside-dialog.js";
import { askList } from "./ask.js";
import { BeginDialog } from "./begin-dialog.js";
import { hasClinicDraft } from "./clinic-page.js";
import { LockButton } from "./lock.js";
import { mayBePrinted, PrintQueue } from "./print-queue.js";
import { TableDialog } from "./table-dialog.js";
import type { Words } from "./use.js";
import { WaitingView } from "./waiting-view.js";

interface ListProps {
  readonly first: VisitsFound;
  readonly words: Words;
}

/** What was looked for last, so that it stands there again on return. */
let search = "";

/** How far down the list was left. */
let leftAt = 0;

/** So many stand on the page at once; the rest is a touch away. */
const SHOWN = 60;

/** The list as it opens: what was looked for last, as much as stands on a page. */
export const firstList = (now: boolean): ListAsked => ({ find: search, most: SHOWN, now });

export function ListPage({ first, words }: ListProps): JSX.Element {
  const [wanted, setTyped] = useState(search);
  const [most, setMost] = useState(SHOWN);
  const [answered, setAnswered] = useState<{ readonly of: VisitsFound; readonly is: VisitsFound } | null>(
    null,
  );
  // A newer list has come in its place.
  const { ofToday, visits, found, of } = answered?.of === first ? answered.is : first;
  const asked = useRef(0);
  const ask = async (text: string, number: number) => {
    search = text;
    setTyped(text);
    setMost(number);
    asked.current += 1;
    const turn = asked.current;
    const answer = await askList({ find: text, most: number, now: false });
    if (turn === asked.current && answer.kind === "done" && "visits" in answer.value)
      setAnswered({ of: first, is: answer.value });
  };
  useEffect(() => {
    scrollTo(0, leftAt);
    return () => {
      leftAt = scrollY;
    };
  }, []);
  const [chosen, setQueued] = useState<readonly ListedVisit[]>([]);
  const queued = chosen.map((one) => [...ofToday, ...visits].find(({ file }) => file === one.file) ?? one);
  const [dialog, open] = useState<"table" | "aside" | null>(null);
  const lookAgain = () => void ask(search, most);
  const [beginning, setBeginning] = useState<ListedVisit | "new" | null>(null);
  const isSearch = wanted.trim() !== "";
  const left = found - ofToday.length - visits.length;
  const enqueue = (more: readonly ListedVisit[]) =>
    setQueued([...queued, ...more.filter((v) => mayBePrinted(v) && !isQueued(v))]);
  const isQueued = (v: ListedVisit) => queued.some(({ file }) => file === v.file);
  const signed = (isSearch ? visits : ofToday).filter((v) => mayBePrinted(v) && !isQueued(v));
  const card = (v: ListedVisit) => (
    <Card
      key={v.file}
      visit={v}
      follow={() => setBeginning(v)}
      isQueued={isQueued(v)}
      enqueue={() => enqueue([v])}
    />
  );
  return (
    <>
      <header class="bar">
        <div class="whose">
          <h1>Visits</h1>
          <p>
            {words.clinic ?? "no clinic file"} · folder {words.folder}
          </p>
        </div>
        <LockButton />
        <a class="button" href="#clinic">
          Clinic
        </a>
        <button type="button" class="main" onClick={() => setBeginning("new")}>
          New visit
        </button>
      </header>
      <main class="list">
        {words.clinic === null ? (
          <p class="notice warning">
            No clinic file that can be read lies in this folder or above it. Letters need a letterhead and the
            people who sign.{" "}
            <a class="button" href="#clinic">
              Set up the clinic
            </a>
          </p>
        ) : null}
        {hasClinicDraft() ? (
          <p class="notice">
            The clinic's set-up has changes that are not saved. <a href="#clinic">Go on with it</a>
          </p>
        ) : null}
        <div class="find">
          <label for="find">Find</label>
          <input
            id="find"
            type="search"
            value={wanted}
            placeholder="name, number, birth date, day, state"
            onInput={(event) => void ask(event.currentTarget.value, SHOWN)}
          />
          <span class="hint" role="status">
            {found} of {of}
          </span>
        </div>
        {signed.length > 1 ? (
          <p class="acts">
            <button type="button" onClick={() => enqueue(signed)}>
              {isSearch ? "Print all signed ones found" : "Print all signed ones of today"}
              <span class="count">{signed.length}</span>
            </button>
          </p>
        ) : null}
        <PrintQueue queued={queued} choose={setQueued} changed={lookAgain} />
        {isSearch ? null : (
          <>
            {ofToday.length > 0 ? (
              <section aria-labelledby="today">
                <h2 id="today">Today</h2>
                <ul class="cards">{ofToday.map(card)}</ul>
              </section>
            ) : null}
            <WaitingView />
            {ofToday.length > 0 ? <h2>Other days</h2> : <h2>All days</h2>}
          </>
        )}
        {of === 0 ? <p class="empty">No visits in this folder yet.</p> : null}
        <ul class="cards all">{visits.map(card)}</ul>
        {left > 0 ? (
          <p class="acts">
            <button type="button" onClick={() => void ask(wanted, most + 5 * SHOWN)}>
              Show more ({left} are left)
            </button>
          </p>
        ) : null}
        <p class="acts foot">
          <button type="button" class="plain" onClick={() => open("table")}>
            Visits from a table
          </button>
          <button type="button" class="plain" onClick={() => open("aside")}>
            Put aside
          </button>
        </p>
      </main>
      {dialog === "table" ? <TableDialog words={words} close={() => open(null)} changed={lookAgain} /> : null}
      {dialog === "aside" ? <AsideDialog close={() => open(null)} changed={lookAgain} /> : null}
      {beginning ? (
        <BeginDialog
          follows={beginning === "new" ? undefined : beginning}
          words={words}
          close={() => setBeginning(null)}
        />
      ) : null}
    </>
  );
}

interface CardProps {
  readonly visit: ListedVisit;
  readonly follow: () => void;
  readonly isQueued: boolean;
  readonly enqueue: () => void;
}

function Card({ visit: v, follow, isQueued, enqueue }: CardProps): JSX.Element {
  return (
    <li>
      <a href={`#visit=${encodeURIComponent(v.file)}`}>
        <span class="day">{v.date}</span>
        <span class="name">
          {v.patient || "no name"} <span class="hint">{v.patientId}</span>
        </span>
        <span class="reason">{v.reason}</span>
        <span class={`state ${v.state}`}>
          {STATES[v.state]}
          {v.errors > 0 ? ` ${v.errors}` : ""}
        </span>
      </a>
      <span class="card-acts">
        {mayBePrinted(v) ? (
          <button
            type="button"
            class="plain"
            disabled={isQueued}
            onClick={enqueue}
            aria-label={`Print letters of ${v.patient}, ${v.date}`}
          >
            {isQueued ? "In the queue" : "Print"}
          </button>
        ) : null}
        <button
          type="button"
          class="plain"
          onClick={follow}
          aria-label={`Follow-up of ${v.patient}, ${v.date}`}
        >
          Follow-up
        </button>
      </span>
    </li>
  );
}

/** The first page: visits of today, what waits, and every visit of the folder by any part of what names it. */
import type { JSX } from "preact";
import { useMemo, useState } from "preact/hooks";
import type { ListedVisit } from "../messages.js";
import { BeginDialog } from "./begin-dialog.js";
import { hasClinicDraft } from "./clinic-page.js";
import { LockButton } from "./lock.js";
import { PrintQueue } from "./print-queue.js";
import type { Words } from "./use.js";
import { WaitingView } from "./waiting-view.js";

interface ListProps {
  readonly visits: readonly ListedVisit[];
  readonly words: Words;
}

/** What was looked for last, so that it stands there again on return. */
let search = "";

const STATES: Readonly<Record<ListedVisit["state"], string>> = {
  draft: "Draft",
  problems: "Errors",
  signed: "Signed",
  made: "Letters made",
};

/** So many stand on the page at once; the rest is a touch away. */
const SHOWN = 60;

export function ListPage({ visits, words }: ListProps): JSX.Element {
  const [wanted, setTyped] = useState(search);
  const [most, setMost] = useState(SHOWN);
  const setWanted = (text: string) => {
    search = text;
    setTyped(text);
    setMost(SHOWN);
  };
  const [queued, setQueued] = useState<ReadonlySet<string>>(new Set());
  const [beginning, setBeginning] = useState<ListedVisit | "new" | null>(null);
  const texts = useMemo(
    () =>
      visits.map((v) =>
        `${v.patient} ${v.patientId} ${v.id} ${v.born} ${v.date} ${v.reason} ${STATES[v.state]}`.toLowerCase(),
      ),
    [visits],
  );
  const parts = wanted.toLowerCase().split(/\s+/u).filter(Boolean);
  const found = visits.filter((_, i) => parts.every((part) => texts[i]?.includes(part)));
  const ofToday = visits.filter(({ date }) => date === words.today);
  const listed = parts.length === 0 ? found.filter(({ date }) => date !== words.today) : found;
  const card = (v: ListedVisit) => (
    <Card
      key={v.file}
      visit={v}
      follow={() => setBeginning(v)}
      isQueued={queued.has(v.file)}
      enqueue={() => setQueued(new Set([...queued, v.file]))}
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
            onInput={(event) => setWanted(event.currentTarget.value)}
          />
          <span class="hint" role="status">
            {found.length} of {visits.length}
          </span>
        </div>
        <PrintQueue visits={visits} chosen={queued} choose={setQueued} />
        {parts.length === 0 ? (
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
        ) : null}
        {visits.length === 0 ? <p class="empty">No visits in this folder yet.</p> : null}
        <ul class="cards all">{listed.slice(0, most).map(card)}</ul>
        {listed.length > most ? (
          <p class="acts">
            <button type="button" onClick={() => setMost(most + 5 * SHOWN)}>
              Show more ({listed.length - most} are left)
            </button>
          </p>
        ) : null}
      </main>
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
      {v.state === "made" ? (
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
    </li>
  );
}

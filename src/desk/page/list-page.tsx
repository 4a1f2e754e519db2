/** The folder's visits, and the first lines of a new one. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { ListedVisit, NewVisit, Refusal } from "../messages.js";
import { askNew } from "./ask.js";
import { Dialog } from "./dialog.js";
import type { Words } from "./use.js";

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

export function ListPage({ visits, words }: ListProps): JSX.Element {
  const [wanted, setTyped] = useState(search);
  const setWanted = (text: string) => {
    search = text;
    setTyped(text);
  };
  const [beginning, setBeginning] = useState<ListedVisit | "new" | null>(null);
  const parts = wanted.toLowerCase().split(/\s+/u).filter(Boolean);
  const shown = visits.filter((v) => {
    const text = `${v.patient} ${v.patientId} ${v.id} ${v.date} ${v.reason} ${STATES[v.state]}`.toLowerCase();
    return parts.every((part) => text.includes(part));
  });
  return (
    <>
      <header class="bar">
        <div class="whose">
          <h1>Visits</h1>
          <p>
            {words.clinic ?? "no clinic file"} · folder {words.folder}
          </p>
        </div>
        <button type="button" class="main" onClick={() => setBeginning("new")}>
          New visit
        </button>
      </header>
      <main class="list">
        <div class="find">
          <label for="find">Find</label>
          <input
            id="find"
            type="search"
            value={wanted}
            placeholder="name, number, date, state"
            onInput={(event) => setWanted(event.currentTarget.value)}
          />
          <span class="hint" role="status">
            {shown.length} of {visits.length}
          </span>
        </div>
        {visits.length === 0 ? <p class="empty">No visits in this folder yet.</p> : null}
        <ul class="cards">
          {shown.map((v) => (
            <li key={v.file}>
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
              <button
                type="button"
                class="plain"
                onClick={() => setBeginning(v)}
                aria-label={`Follow-up of ${v.patient}, ${v.date}`}
              >
                Follow-up
              </button>
            </li>
          ))}
        </ul>
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

interface BeginProps {
  readonly follows: ListedVisit | undefined;
  readonly words: Words;
  readonly close: () => void;
}

function BeginDialog({ follows, words, close }: BeginProps): JSX.Element {
  const [refused, setRefused] = useState<Refusal | null>(null);
  const [visit, setVisit] = useState<NewVisit>({
    id: words.nextId,
    date: words.today,
    seenBy: "",
    reason: "",
    patientId: follows?.patientId ?? "",
    title: "",
    given: "",
    family: "",
    born: "",
    sex: "",
    ...(follows ? { follows: follows.file } : {}),
  });
  const field = (key: keyof NewVisit, label: string, hint = "", required = true) => (
    <div class="field">
      <label for={`new-${key}`}>
        {label} {hint ? <span class="hint">{hint}</span> : null}
      </label>
      <input
        id={`new-${key}`}
        type="text"
        autocomplete="off"
        required={required}
        value={visit[key] ?? ""}
        onInput={(event) => setVisit({ ...visit, [key]: event.currentTarget.value })}
      />
    </div>
  );
  const begin = async () => {
    const answer = await askNew(visit);
    if (answer.kind === "done") location.hash = `visit=${encodeURIComponent(answer.value.file)}`;
    else setRefused(answer.kind === "refused" ? answer.refusal : { refused: "The desk does not answer." });
  };
  return (
    <Dialog title={follows ? `Follow-up of ${follows.patient}` : "New visit"} close={close}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void begin();
        }}
      >
        <div class="grid">
          {follows ? null : (
            <>
              {field("title", "Title", "", false)}
              {field("given", "Given name", "", false)}
              {field("family", "Family name")}
              {field("born", "Born", "year-month-day")}
              {field("patientId", "Patient number")}
              <div class="field">
                <label for="new-sex">Sex as recorded</label>
                <select
                  id="new-sex"
                  value={visit.sex}
                  onChange={(event) => setVisit({ ...visit, sex: event.currentTarget.value })}
                >
                  {["", "female", "male", "intersex", "not stated"].map((sex) => (
                    <option key={sex} value={sex}>
                      {sex || "—"}
                    </option>
                  ))}
                </select>
              </div>
            </>
          )}
          {field("id", "Visit number")}
          {field("date", "Day of the visit", "year-month-day")}
          {words.people.length > 0 ? (
            <div class="field">
              <label for="new-seenBy">Seen by</label>
              <select
                id="new-seenBy"
                value={visit.seenBy}
                required
                onChange={(event) => setVisit({ ...visit, seenBy: event.currentTarget.value })}
              >
                <option value="">choose</option>
                {words.people.map(({ key, name }) => (
                  <option key={key} value={key}>
                    {name}
                  </option>
                ))}
              </select>
            </div>
          ) : (
            field("seenBy", "Seen by")
          )}
        </div>
        {refused ? (
          <div class="notice warning" role="alert">
            <p>{refused.refused}</p>
            <ul>
              {refused.problems?.map(({ id, message, expected }) => (
                <li key={`${id} ${message}`}>
                  {message}
                  {expected ? <span class="hint"> {expected}</span> : null}
                </li>
              ))}
            </ul>
          </div>
        ) : null}
        {refused?.needsReason
          ? field("reason", "Why it is right all the same", "kept in the visit", false)
          : null}
        <p class="acts">
          <button type="submit" class="main">
            Begin
          </button>
          <button type="button" onClick={close}>
            Not now
          </button>
        </p>
      </form>
    </Dialog>
  );
}

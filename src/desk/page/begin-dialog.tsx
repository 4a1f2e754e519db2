/** The first lines of a new visit, or of one that follows another. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { ListedVisit, NewVisit } from "../list-messages.js";
import type { Refusal } from "../messages.js";
import { askNew } from "./ask.js";
import { Dialog } from "./dialog.js";
import { Segments } from "./segments.js";
import type { Words } from "./use.js";

interface BeginProps {
  readonly follows: ListedVisit | undefined;
  readonly words: Words;
  readonly close: () => void;
}

export function BeginDialog({ follows, words, close }: BeginProps): JSX.Element {
  const [refused, setRefused] = useState<Refusal | null>(null);
  const [visit, setVisit] = useState<NewVisit>({
    id: words.nextId,
    date: words.today,
    seenBy: "",
    reason: "",
    patientId: follows?.patientId ?? words.nextPatientId,
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
              {field("given", "Given name", "", false)}
              {field("family", "Family name")}
              {field("title", "Title", "", false)}
              {field("born", "Born", "year-month-day")}
              {field("patientId", "Patient number")}
              <Segments
                label="Sex as recorded"
                value={visit.sex}
                options={["female", "male", "intersex", "not stated"].map((sex) => [sex, sex] as const)}
                choose={(sex) => setVisit({ ...visit, sex })}
              />
            </>
          )}
          {field("id", "Visit number")}
          {field("date", "Day of the visit", "year-month-day")}
          {words.people.length > 0 ? (
            <Segments
              label="Seen by"
              value={visit.seenBy}
              options={words.people.map(({ key, name }) => [key, name] as const)}
              choose={(seenBy) => setVisit({ ...visit, seenBy })}
              required
            />
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

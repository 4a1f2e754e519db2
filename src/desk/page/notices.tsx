/** What needs a word or an answer: a file changed underneath, a server away, signing, documents made. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { listAt, mapAt, textAt } from "./apply.js";
import { Dialog } from "./dialog.js";
import { ProblemLine } from "./problems-view.js";
import { useHere } from "./use.js";

export function Notices(): JSX.Element {
  const { visit } = useHere();
  const { saving, conflict, refusal, takenOver, state } = visit;
  return (
    <div class="notices" role="status">
      {saving === "away" ? (
        <p class="notice warning">
          <span class="mark" aria-hidden="true" />
          Not saved: the desk does not answer. Your changes wait here and are saved as soon as it is back.
        </p>
      ) : null}
      {saving === "shut" ? (
        <p class="notice warning">
          <span class="mark" aria-hidden="true" />
          Not saved: the desk was started anew. Open the address it printed in this browser; this page then
          saves what waits here.
        </p>
      ) : null}
      {saving === "failing" ? (
        <p class="notice warning">
          <span class="mark" aria-hidden="true" />
          Not saved: the desk cannot write the file (a full disk, or a folder it may not write to). Your
          changes wait here.
        </p>
      ) : null}
      {takenOver ? (
        <p class="notice">
          Another program changed this file. Its text is shown; Undo brings yours back.{" "}
          <button type="button" class="plain" onClick={() => visit.dismiss()}>
            Understood
          </button>
        </p>
      ) : null}
      {refusal && !refusal.problems ? (
        <p class="notice warning">
          <span class="mark" aria-hidden="true" />
          {refusal.refused}{" "}
          <button type="button" class="plain" onClick={() => visit.dismiss()}>
            Understood
          </button>
        </p>
      ) : null}
      {state.written === null ? (
        <p class="notice warning">
          <span class="mark" aria-hidden="true" />
          This file cannot be read as YAML, so the form stays shut. The problems name the line to mend in a
          text editor.
        </p>
      ) : null}
      {conflict ? <ConflictDialog places={conflict.places} /> : null}
      {refusal?.problems ? (
        <Dialog title={refusal.refused} close={() => visit.dismiss()}>
          <ul class="problems">
            {refusal.problems
              .filter(({ severity }) => severity === "error")
              .map((problem) => (
                <ProblemLine key={`${problem.id} ${problem.path ?? ""}`} problem={problem} />
              ))}
          </ul>
          <p class="acts">
            <button type="button" class="main" onClick={() => visit.dismiss()}>
              Back to the form
            </button>
          </p>
        </Dialog>
      ) : null}
    </div>
  );
}

function ConflictDialog({ places }: { readonly places: readonly string[] }): JSX.Element {
  const { visit } = useHere();
  return (
    <Dialog title="The file changed underneath" mayLeave={false} close={() => undefined}>
      <p>Another program or another tab wrote this visit while you were typing. It differs at:</p>
      <ul class="places">
        {places.map((place) => (
          <li key={place}>
            <code>{place}</code>
          </li>
        ))}
      </ul>
      <p>Text that was saved before stays within reach of Undo.</p>
      <p class="acts">
        <button type="button" class="main" onClick={() => void visit.resolve("both")}>
          Take the file and put my change into it
        </button>
        <button type="button" onClick={() => void visit.resolve("mine")}>
          Keep my text
        </button>
        <button type="button" onClick={() => void visit.resolve("theirs")}>
          Take the file, drop my change
        </button>
      </p>
    </Dialog>
  );
}

/** Sign, reopen, make and open, as the state of the visit allows. */
export function Finish(): JSX.Element {
  const { visit, words } = useHere();
  const [asking, setAsking] = useState(false);
  const [making, setMaking] = useState(false);
  const { state, written } = visit;
  const impression = listAt(written, ["impression"]);
  const to = listAt(written, ["send_to"]);
  const who = words.people.find(({ key }) => key === textAt(written, ["visit", "seen_by"]));
  const name = mapAt(written, ["patient", "name"]);
  const current = state.made.filter((m) => m.current);
  return (
    <div class="finish">
      {current.map((made) => (
        <a
          key={made.name}
          href={`/letter/${encodeURIComponent(made.name)}?of=${encodeURIComponent(state.file)}`}
          target="_blank"
          rel="noreferrer"
        >
          {made.kind === "handout" ? "Handout" : "Letter"}
          {/\d\.pdf$/u.test(made.name) ? ` ${/(\d+)\.pdf$/u.exec(made.name)?.[1]}` : ""} PDF
        </a>
      ))}
      <button
        type="button"
        class={state.signed && current.length === 0 ? "main" : ""}
        disabled={making}
        onClick={async () => {
          setMaking(true);
          await visit.make();
          setMaking(false);
        }}
      >
        {making ? "Making" : current.length > 0 ? "Make again" : "Make documents"}
      </button>
      {state.signed ? (
        <button type="button" onClick={() => void visit.reopen()}>
          Reopen as draft
        </button>
      ) : (
        <button type="button" class="main" onClick={() => setAsking(true)}>
          Sign
        </button>
      )}
      {asking ? (
        <Dialog title="Sign this visit?" close={() => setAsking(false)}>
          <dl>
            <dt>Patient</dt>
            <dd>
              {[name.title, name.given, name.family].filter(Boolean).join(" ")}, born{" "}
              {textAt(written, ["patient", "born"])}
            </dd>
            <dt>Impression</dt>
            <dd>
              {impression.length === 0
                ? "none recorded"
                : impression
                    .map(
                      (line) =>
                        `${textAt(line, ["disorder"])} (${textAt(line, ["certainty"]) || "how sure?"})`,
                    )
                    .join("; ")}
            </dd>
            <dt>Letter to</dt>
            <dd>{to.map((r) => textAt(r, ["name"])).join("; ") || "nobody yet"}</dd>
            <dt>Signed by</dt>
            <dd>{who ? `${who.name}, ${who.role}` : textAt(written, ["visit", "seen_by"])}</dd>
          </dl>
          <p class="acts">
            <button
              type="button"
              class="main"
              onClick={() => {
                setAsking(false);
                void visit.sign();
              }}
            >
              Sign
            </button>
            <button type="button" onClick={() => setAsking(false)}>
              Not yet
            </button>
          </p>
        </Dialog>
      ) : null}
    </div>
  );
}

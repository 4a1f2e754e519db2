/** What needs a word: a file changed underneath or gone, a server away, a refusal. None of it takes the focus or a key. */
import type { JSX } from "preact";
import type { KeyPath } from "../../base/yaml-source.js";
import type { Written } from "../messages.js";
import { Dialog } from "./dialog.js";
import { placeName } from "./place-name.js";
import { ProblemLine } from "./problems-view.js";
import type { Clash } from "./rebase.js";
import { useHere } from "./use.js";

const UNSAVED = {
  away: "Not saved: the desk does not answer. Your changes wait here and are saved as soon as it is back.",
  shut: "Not saved: the desk was started anew. Open the address it printed in this browser; this page then saves what waits here.",
  failing:
    "Not saved: the desk cannot write the file (a full disk, a folder it may not write to, or a text that is no visit). Your changes wait here.",
} as const;

export function Notices(): JSX.Element {
  const { visit } = useHere();
  const { saving, conflict, refusal, takenOver, state } = visit;
  return (
    <div class="notices" role="status">
      {saving === "away" || saving === "shut" || saving === "failing" ? (
        <p class="notice warning">
          <span class="mark" aria-hidden="true" />
          {UNSAVED[saving]}
        </p>
      ) : null}
      {saving === "gone" ? (
        <p class="notice warning">
          <span class="mark" aria-hidden="true" />
          The file {state.file} was moved or deleted. What stands here is kept on this page only.{" "}
          <button type="button" onClick={() => void visit.restore()}>
            Write the file again
          </button>
        </p>
      ) : null}
      {takenOver ? (
        <p class="notice">
          Another program or tab changed this file
          {takenOver.length > 0 ? <> at {takenOver.map((path) => placeName(path)).join("; ")}</> : null}. Its
          text is shown; Undo brings the one before back.{" "}
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
      {conflict ? <ConflictPanel clashes={conflict.clashes} /> : null}
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

/** Both texts, place by place. It stands in the page and asks for nothing: typing goes on, and is shown here as it grows. */
function ConflictPanel({ clashes }: { readonly clashes: readonly Clash[] }): JSX.Element {
  const { visit } = useHere();
  return (
    <section class="notice warning conflict" aria-label="The file changed underneath">
      <h3>The file changed underneath</h3>
      <p>
        Another program or tab wrote at the very place you are writing. Nothing more is saved until you
        choose.
      </p>
      <table>
        <thead>
          <tr>
            <th scope="col">Place</th>
            <th scope="col">On this page</th>
            <th scope="col">In the file</th>
          </tr>
        </thead>
        <tbody>
          {clashes.map(({ path, there, mine, theirs }) => (
            <tr key={path.join(".")}>
              <th scope="row">{nameIn(visit.written, path)}</th>
              <td>{inShort(mine)}</td>
              <td>{there === null ? "no longer there" : inShort(theirs)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="acts">
        <button type="button" onClick={() => void visit.resolve("mine")}>
          Keep what is on this page there
        </button>
        <button type="button" onClick={() => void visit.resolve("theirs")}>
          Keep what is in the file there
        </button>
      </p>
    </section>
  );
}

const nameIn = (written: Written, path: KeyPath): string => placeName(path, written);

function inShort(value: Written | undefined): string {
  if (value === undefined || value === null) return "nothing";
  if (typeof value === "string") return value;
  if (Array.isArray(value)) return value.map((entry: Written) => inShort(entry)).join(", ");
  return Object.entries(value)
    .map(([key, inner]) => `${key.replaceAll("_", " ")}: ${inShort(inner)}`)
    .join("; ");
}

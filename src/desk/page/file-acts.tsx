/** The file of a visit: another name for it, or put aside. Nothing is deleted. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import { type Answer, askPutAside, askRename, whyNot } from "./ask.js";
import { useHere } from "./use.js";

export function FileActs(): JSX.Element {
  const { visit } = useHere();
  const { file, signed } = visit.state;
  const own = file.split("/").at(-1) ?? "";
  const [name, setName] = useState(own);
  const [asking, setAsking] = useState(false);
  const [said, say] = useState("");
  const act = async (what: (base: string) => Promise<Answer<object>>, then: (value: object) => string) => {
    if (!(await visit.isSaved())) return say("Not everything is saved yet. Try again.");
    const answer = await what(visit.state.hash);
    if (answer.kind === "done") location.hash = then(answer.value);
    else say(whyNot(answer));
  };
  return (
    <details class="file-acts">
      <summary>
        File <span class="hint">{file}</span>
      </summary>
      {signed ? (
        <p class="hint">A signed visit keeps its name and its place.</p>
      ) : (
        <>
          <form
            onSubmit={(event) => {
              event.preventDefault();
              void act(
                (base) => askRename(file, base, name),
                (value) => `visit=${encodeURIComponent("file" in value ? String(value.file) : file)}`,
              );
            }}
          >
            <div class="field">
              <label for="file-name">Name of the file</label>
              <input
                id="file-name"
                type="text"
                autocomplete="off"
                spellcheck={false}
                value={name}
                onInput={(event) => setName(event.currentTarget.value)}
              />
            </div>
            <p class="acts">
              <button type="submit" disabled={name.trim() === "" || name === own}>
                Rename
              </button>
              <button type="button" aria-expanded={asking} onClick={() => setAsking(!asking)}>
                Put aside
              </button>
            </p>
          </form>
          {asking ? (
            <div class="notice warning">
              <p>
                The visit leaves the list, the open work and every command. Nothing is deleted: what is put
                aside can be taken back at the foot of the list of visits.
              </p>
              <p class="acts">
                <button
                  type="button"
                  onClick={() =>
                    void act(
                      (base) => askPutAside(file, base),
                      () => "visits",
                    )
                  }
                >
                  Put this visit aside
                </button>
              </p>
            </div>
          ) : null}
        </>
      )}
      {said ? (
        <p class="error" role="alert">
          {said}
        </p>
      ) : null}
    </details>
  );
}

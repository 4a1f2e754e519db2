/** The must-not-miss lines that a line of the plan answers: those raised in this visit are one touch away, any other a search. */
import type { JSX } from "preact";
import { type KeyPath, writePath } from "../../base/yaml-source.js";
import { textsAt } from "./apply.js";
import { Combo } from "./combo.js";
import { Said } from "./fields.js";
import { useHere } from "./use.js";

const nameOf = (id: string): string => id.replaceAll("-", " ");

export function Answers({ path }: { readonly path: KeyPath }): JSX.Element {
  const { visit, words } = useHere();
  const answers = textsAt(visit.written, path);
  const raised = visit.state.mustNotMiss.map(({ id }) => id);
  const shown = [...new Set([...raised, ...answers])];
  const all = words.fields.find((field) => field.path === "plan.answers")?.words ?? [];
  const toggle = (id: string) => {
    const next = answers.includes(id) ? answers.filter((other) => other !== id) : [...answers, id];
    if (next.length === 0) visit.remove(path);
    else visit.put(path, next);
  };
  return (
    <div class="wide answers">
      <fieldset class="chips" data-place={writePath(path)} disabled={visit.state.signed}>
        <legend>Answers what must not be missed</legend>
        {shown.map((id) => (
          <button
            key={id}
            type="button"
            class="chip"
            aria-pressed={answers.includes(id)}
            onClick={() => toggle(id)}
          >
            {nameOf(id)}
          </button>
        ))}
        {shown.length === 0 ? <span class="hint">No line is raised.</span> : null}
      </fieldset>
      {visit.state.signed ? null : (
        <Combo
          label="Another line that it answers"
          entries={all
            .filter((id) => !shown.includes(id))
            .map((id) => ({ id, term: nameOf(id), also: [id] }))}
          onTake={({ id }) => {
            toggle(id);
            return "";
          }}
        />
      )}
      <Said path={path} id={`said-${path.join("-")}`} />
    </div>
  );
}

/** Must-not-miss lines that are open, each closed in one touch: a plan line answers it, or it stands for a reason. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { MustNotMiss } from "../../interpret/interpretation.js";
import { listAt, textAt, textsAt } from "./apply.js";
import { useHere } from "./use.js";

export function OpenLines(): JSX.Element | null {
  const { visit } = useHere();
  const open = visit.state.mustNotMiss.filter(({ answeredByPlan }) => !answeredByPlan);
  if (visit.state.isUnweighed) return <p class="hint">What must not be missed is being worked out.</p>;
  if (open.length === 0) return null;
  return (
    <section class="raised open-lines" aria-label="Must not be missed, and open">
      <h3>Must not be missed, and open</h3>
      <ul>
        {open.map((line) => (
          <OpenLine key={line.id} line={line} />
        ))}
      </ul>
    </section>
  );
}

const nameOf = (id: string): string => id.replaceAll("-", " ");

function OpenLine({
  line: { id, why, urgency, who, raisedBy },
}: {
  readonly line: MustNotMiss;
}): JSX.Element {
  const { visit, goTo } = useHere();
  const [asking, setAsking] = useState(false);
  const [reason, setReason] = useState("");
  const plan = listAt(visit.written, ["plan"]);
  const answer = (index: number) =>
    visit.put(["plan", index, "answers"], [...textsAt(visit.written, ["plan", index, "answers"]), id]);
  return (
    <li data-line={id}>
      <p>
        <b>{nameOf(id)}</b> <span class="urgency">{urgency}</span> {why} <span class="hint">{who}</span>
      </p>
      {raisedBy.length > 0 ? (
        <details>
          <summary>What raised it</summary>
          <ul class="raised-by">
            {[...new Set(raisedBy.map(({ says }) => says))].map((says) => (
              <li key={says}>{says}</li>
            ))}
          </ul>
        </details>
      ) : null}
      {visit.state.signed ? null : (
        <p class="acts">
          {plan.map((entry, i) => (
            <button key={visit.rowsAt(["plan"])[i]} type="button" onClick={() => answer(i)}>
              Answered by: {textAt(entry, ["action"]) || `plan line ${i + 1}`}
            </button>
          ))}
          <button
            type="button"
            onClick={() => {
              visit.put(["plan", plan.length], { who: "general practitioner", answers: [id] });
              goTo(`plan[${plan.length}].action`);
            }}
          >
            New plan line for it
          </button>
          <button type="button" aria-expanded={asking} onClick={() => setAsking(!asking)}>
            It stands, for a reason
          </button>
        </p>
      )}
      {asking ? (
        <form
          class="accept"
          onSubmit={(event) => {
            event.preventDefault();
            if (reason.trim() === "") return;
            const accepted = listAt(visit.written, ["accept"]).length;
            visit.put(["accept", accepted], { id: `must-not-miss-open:${id}`, reason: reason.trim() });
            setAsking(false);
          }}
        >
          <label>
            Why nothing more is needed for {nameOf(id)}
            <input type="text" value={reason} onInput={(event) => setReason(event.currentTarget.value)} />
          </label>
          <button type="submit" disabled={reason.trim() === ""}>
            Keep the reason
          </button>
        </form>
      ) : null}
    </li>
  );
}

/** All that the library says about the visit, each line leading to its field; a warning can be accepted with a reason. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Problem } from "../../base/problem.js";
import { readPath } from "../../base/yaml-source.js";
import { listAt, textAt } from "./apply.js";
import { placeName } from "./place-name.js";
import { useHere } from "./use.js";

const TITLES = {
  error: "Errors: nothing can be signed",
  warning: "Warnings: worth a look",
  note: "Notes",
} as const;

export function ProblemsView(): JSX.Element {
  const { visit } = useHere();
  const { problems } = visit;
  if (problems.length === 0)
    return (
      <p class="empty">{visit.state.isUnweighed ? "The visit is being looked through." : "No problems."}</p>
    );
  return (
    <div class="problems">
      {(["error", "warning", "note"] as const).map((severity) => {
        const here = problems.filter((p) => p.severity === severity);
        return here.length === 0 ? null : (
          <section key={severity}>
            <h3>
              {TITLES[severity]} <span class="hint">{here.length}</span>
            </h3>
            <ul>
              {here.map((problem) => (
                <ProblemLine
                  key={`${problem.id} ${problem.path ?? ""} ${problem.message}`}
                  problem={problem}
                />
              ))}
            </ul>
          </section>
        );
      })}
    </div>
  );
}

export function ProblemLine({
  problem,
  onGo,
}: {
  readonly problem: Problem;
  /** Told before the way leads to the field, such as to close a dialog. */
  readonly onGo?: () => void;
}): JSX.Element {
  const { visit, goTo } = useHere();
  const [asking, setAsking] = useState(false);
  const [reason, setReason] = useState("");
  const { path, found, suggestion, severity } = problem;
  const place = path === undefined ? undefined : readPath(path);
  // Only where the field still holds what the library found can its suggestion take the place.
  const canMend = place && suggestion && found !== undefined && textAt(visit.written, place) === found;
  const accept = () => {
    if (reason.trim() === "") return;
    const count = listAt(visit.written, ["accept"]).length;
    visit.put(["accept", count], { id: problem.id, reason: reason.trim() });
    setAsking(false);
  };
  return (
    <li class={severity}>
      <span class="mark" aria-hidden="true" />
      <div>
        <p>
          <span class="unseen">{severity}: </span>
          {problem.message}
        </p>
        {problem.expected || suggestion ? (
          <p class="hint">
            {[problem.expected, suggestion ? `Did you mean ${suggestion}?` : ""].filter(Boolean).join(". ")}
          </p>
        ) : null}
        <p class="acts">
          {path ? (
            <button
              type="button"
              class="link"
              onClick={() => {
                onGo?.();
                goTo(path);
              }}
            >
              Go to {placeName(path)}
            </button>
          ) : problem.line ? (
            <span class="hint">line {problem.line}</span>
          ) : null}
          {canMend && place ? (
            <button type="button" class="link" onClick={() => visit.put(place, suggestion)}>
              Write {suggestion}
            </button>
          ) : null}
          {severity === "warning" && !asking && !visit.state.signed ? (
            <button type="button" class="link" onClick={() => setAsking(true)}>
              Accept with a reason
            </button>
          ) : null}
        </p>
        {asking ? (
          <form
            class="accept"
            onSubmit={(event) => {
              event.preventDefault();
              accept();
            }}
          >
            <label>
              Why it stands as it is
              <input type="text" value={reason} onInput={(event) => setReason(event.currentTarget.value)} />
            </label>
            <button type="submit">Accept</button>
          </form>
        ) : null}
      </div>
    </li>
  );
}

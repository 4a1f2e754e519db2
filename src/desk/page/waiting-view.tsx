/** Open work of the folder: what must be acted on first, the oldest first within it; each line leads to the visit that closes it. */
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Waiting } from "../messages.js";
import { askWaiting } from "./ask.js";

const SHOWN = 6;
const AGAIN_MS = 700;

/** As it stood last, so that it is there at once on return. */
let last: readonly Waiting[] | undefined;

export function WaitingView(): JSX.Element | null {
  const [waiting, setWaiting] = useState(last);
  const [progress, setProgress] = useState<{ done: number; of: number } | null>(null);
  const [isWhole, setWhole] = useState(false);
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    let isGone = false;
    const look = async () => {
      const answer = await askWaiting();
      if (isGone) return;
      if (answer.kind === "done" && "waiting" in answer.value) {
        last = answer.value.waiting;
        setWaiting(last);
        setProgress(null);
        return;
      }
      if (answer.kind === "done" && "of" in answer.value) setProgress(answer.value);
      timer = setTimeout(() => void look(), AGAIN_MS);
    };
    void look();
    return () => {
      isGone = true;
      clearTimeout(timer);
    };
  }, []);
  const due = (waiting ?? []).filter((line) => line.due || line.urgency !== null);
  const rest = (waiting ?? []).length - due.length;
  const shown = isWhole ? (waiting ?? []) : due.slice(0, SHOWN);
  return (
    <section class="waiting" aria-labelledby="open-work">
      <h2 id="open-work">
        Open work{" "}
        {waiting ? (
          <span class="hint">
            {due.length} to act on, {rest} not yet due
          </span>
        ) : null}
      </h2>
      {progress ? (
        <p class="hint">
          <progress value={progress.done} max={Math.max(1, progress.of)} aria-label="Visits weighed" />{" "}
          Weighing {progress.done} of {progress.of} visits
        </p>
      ) : null}
      {waiting?.length === 0 ? <p class="empty">Nothing waits.</p> : null}
      <ul class="open-work">
        {shown.map((line) => (
          <li key={`${line.kind} ${line.file} ${line.what}`} class={line.due ? "due" : ""}>
            <Line line={line} />
          </li>
        ))}
      </ul>
      {waiting && waiting.length > Math.min(SHOWN, due.length) ? (
        <p class="acts">
          <button type="button" aria-expanded={isWhole} onClick={() => setWhole(!isWhole)}>
            {isWhole ? "Show only the first" : `Show all ${waiting.length}`}
          </button>
        </p>
      ) : null}
    </section>
  );
}

function Line({ line }: { readonly line: Waiting }): JSX.Element {
  const { heading, urgency, what, patient, patientId, since, by, who, file, closes } = line;
  const body = (
    <>
      <span class="kind">
        {heading}
        {urgency ? <span class="urgency">{urgency}</span> : null}
      </span>
      <span class="name">
        {patient || "no name"} <span class="hint">{patientId}</span>
      </span>
      <span class="what">
        {what}{" "}
        <span class="hint">
          since {since}
          {by ? `, by ${by}` : ""}
          {who ? `; ${who}` : ""}
        </span>
      </span>
    </>
  );
  return file === "" ? (
    <div title={closes}>{body}</div>
  ) : (
    <a href={`#visit=${encodeURIComponent(file)}`} title={closes}>
      {body}
    </a>
  );
}

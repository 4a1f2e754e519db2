/** Open work of the folder: what must be acted on first, the oldest first within it; each line leads to the visit that closes it. */
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { LookedSoFar, OpenLines, Waiting } from "../list-messages.js";
import { askWaiting } from "./ask.js";

/** So many more at a time. */
const MORE = 300;
const AGAIN_MS = 700;

/** As it stood last, so that it is there at once on return. */
let last: OpenLines | undefined;

export function WaitingView(): JSX.Element | null {
  const [open, setOpen] = useState(last);
  const [progress, setProgress] = useState<LookedSoFar | null>(null);
  /** 0 for the first lines to act on. */
  const [most, setMost] = useState(0);
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    let isGone = false;
    const look = async () => {
      const answer = await askWaiting(most);
      if (isGone) return;
      if (answer.kind === "done" && "waiting" in answer.value) {
        if (most === 0) last = answer.value;
        setOpen(answer.value);
        setProgress(null);
        return;
      }
      if (answer.kind === "done" && "done" in answer.value) setProgress(answer.value);
      timer = setTimeout(() => void look(), AGAIN_MS);
    };
    void look();
    return () => {
      isGone = true;
      clearTimeout(timer);
    };
  }, [most]);
  const lines = open?.waiting ?? [];
  const left = (open?.of ?? 0) - lines.length;
  return (
    <section class="waiting" aria-labelledby="open-work">
      <h2 id="open-work">
        Open work{" "}
        {open ? (
          <span class="hint">
            {open.due} to act on, {open.of - open.due} not yet due
          </span>
        ) : null}
      </h2>
      {progress ? (
        <p class="hint">
          <progress value={progress.done} max={Math.max(1, progress.of)} aria-label="Visits weighed" />{" "}
          Weighing {progress.done} of {progress.of} visits
        </p>
      ) : null}
      {open?.of === 0 ? <p class="empty">Nothing waits.</p> : null}
      <ul class="open-work">
        {lines.map((line) => (
          <li key={`${line.kind} ${line.file} ${line.what}`} class={line.due ? "due" : ""}>
            <Line line={line} />
          </li>
        ))}
      </ul>
      {left > 0 || most > 0 ? (
        <p class="acts">
          {left > 0 ? (
            <button type="button" onClick={() => setMost(most + MORE)}>
              {most === 0 && left <= MORE ? `Show all ${open?.of}` : `Show more (${left} are left)`}
            </button>
          ) : null}
          {most > 0 ? (
            <button type="button" onClick={() => setMost(0)}>
              Show only the first
            </button>
          ) : null}
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

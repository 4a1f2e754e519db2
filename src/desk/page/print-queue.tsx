/** Letters to print together: signed visits, chosen one by one or all on show; their documents are made where they are not, and become one file for the printer. */
import type { JSX } from "preact";
import { useRef, useState } from "preact/hooks";
import type { ListedVisit } from "../list-messages.js";
import { askFile, askState, whyNot } from "./ask.js";

interface QueueProps {
  readonly queued: readonly ListedVisit[];
  readonly choose: (visits: readonly ListedVisit[]) => void;
  /** Told when documents were made. */
  readonly changed: () => void;
}

export const mayBePrinted = ({ state }: ListedVisit): boolean => state === "signed" || state === "made";

export function PrintQueue({ queued, choose, changed }: QueueProps): JSX.Element | null {
  const [said, say] = useState("");
  const [failed, setFailed] = useState<ReadonlyMap<string, string>>(new Map());
  const [isAtWork, setAtWork] = useState(false);
  const stopped = useRef(false);
  if (queued.length === 0) return said === "" ? null : <p role="status">{said}</p>;
  /** Makes what is not made yet, one visit after the other; those that cannot be made stay in the queue, with why. */
  const make = async (): Promise<readonly ListedVisit[]> => {
    const open = queued.filter(({ state }) => state !== "made");
    const why = new Map<string, string>();
    for (const [i, { file }] of open.entries()) {
      if (stopped.current) break;
      say(`Making the letters of ${i + 1} of ${open.length} visits.`);
      const answer = await askState("make", { file, pane: "letter" });
      if (answer.kind !== "done") why.set(file, whyNot(answer));
    }
    setFailed(why);
    if (open.length > 0) changed();
    return queued.filter(({ file }) => !why.has(file));
  };
  const print = async () => {
    stopped.current = false;
    setAtWork(true);
    const ready = await make();
    setAtWork(false);
    if (stopped.current) return say("Stopped. What was made stays.");
    if (ready.length === 0) return say("Nothing can be printed yet.");
    const answer = await askFile("queue", { files: ready.map(({ file }) => file) });
    if (answer.kind !== "done") return say(whyNot(answer));
    const left = queued.filter((one) => !ready.includes(one));
    say(
      `${answer.value} with the letters of ${ready.length} ${ready.length === 1 ? "visit" : "visits"} was handed to the browser: print it on both sides or on one.${left.length > 0 ? ` ${left.length} stay in the queue.` : ""}`,
    );
    choose(left);
  };
  return (
    <section class="queue" aria-labelledby="print-queue">
      <h2 id="print-queue">
        Print queue <span class="hint">{queued.length}</span>
      </h2>
      <ul class="line-list">
        {queued.map(({ file, patient, date, state }) => (
          <li key={file}>
            <span>
              {patient}, {date} {state === "made" ? null : <span class="hint">letters to be made</span>}
              {failed.has(file) ? <span class="error"> {failed.get(file)}</span> : null}
            </span>
            <button
              type="button"
              class="plain"
              disabled={isAtWork}
              aria-label={`Take ${patient}, ${date} off the queue`}
              onClick={() => choose(queued.filter((other) => other.file !== file))}
            >
              Take off
            </button>
          </li>
        ))}
      </ul>
      <p class="acts">
        <button type="button" class="main" disabled={isAtWork} onClick={() => void print()}>
          One file to print
        </button>
        {isAtWork ? (
          <button
            type="button"
            onClick={() => {
              stopped.current = true;
            }}
          >
            Stop
          </button>
        ) : null}
        <span role="status">{said}</span>
      </p>
    </section>
  );
}

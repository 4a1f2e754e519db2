/** Letters to print together: visits whose documents are made, chosen one by one or all of a day, as one file for the printer. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { ListedVisit } from "../messages.js";
import { askFile } from "./ask.js";

interface QueueProps {
  readonly queued: readonly ListedVisit[];
  readonly choose: (visits: readonly ListedVisit[]) => void;
}

export function PrintQueue({ queued, choose }: QueueProps): JSX.Element | null {
  const [said, say] = useState("");
  if (queued.length === 0) return said === "" ? null : <p role="status">{said}</p>;
  const print = async () => {
    const answer = await askFile("queue", { files: queued.map(({ file }) => file) });
    if (answer.kind === "done") {
      say(`${answer.value} was handed to the browser: print it on both sides or on one.`);
      choose([]);
    } else say(answer.kind === "refused" ? answer.refusal.refused : "The desk does not answer.");
  };
  return (
    <section class="queue" aria-labelledby="print-queue">
      <h2 id="print-queue">
        Print queue <span class="hint">{queued.length}</span>
      </h2>
      <ul>
        {queued.map(({ file, patient, date }) => (
          <li key={file}>
            {patient}, {date}{" "}
            <button
              type="button"
              class="plain"
              aria-label={`Take ${patient}, ${date} off the queue`}
              onClick={() => choose(queued.filter((other) => other.file !== file))}
            >
              Take off
            </button>
          </li>
        ))}
      </ul>
      <p class="acts">
        <button type="button" class="main" onClick={() => void print()}>
          One file to print
        </button>
        <span role="status">{said}</span>
      </p>
    </section>
  );
}

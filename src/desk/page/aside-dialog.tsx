/** Visits that were put aside, each to be taken back. */
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { VisitAside } from "../list-messages.js";
import { askAside, askTakeBack, whyNot } from "./ask.js";
import { Dialog } from "./dialog.js";

interface AsideProps {
  readonly close: () => void;
  /** Told when the folder holds another visit. */
  readonly changed: () => void;
}

export function AsideDialog({ close, changed }: AsideProps): JSX.Element {
  const [visits, setVisits] = useState<readonly VisitAside[] | null>(null);
  const [said, say] = useState("");
  const look = async () => {
    const answer = await askAside();
    if (answer.kind === "done") setVisits(answer.value.visits);
    else say(whyNot(answer));
  };
  const takeBack = async (lies: string) => {
    const answer = await askTakeBack(lies);
    say(answer.kind === "done" ? `${answer.value.file} is in the list again.` : whyNot(answer));
    if (answer.kind === "done") changed();
    await look();
  };
  useEffect(() => void look(), []);
  return (
    <Dialog title="Put aside" close={close} said={said}>
      {visits?.length === 0 ? <p class="hint">No visit is put aside.</p> : null}
      <ul class="line-list">
        {visits?.map(({ lies, file, patient, date }) => (
          <li key={lies}>
            <span>
              {date} {patient || "no name"} <span class="hint">{file}</span>
            </span>
            <button type="button" aria-label={`Take back ${file}`} onClick={() => void takeBack(lies)}>
              Take back
            </button>
          </li>
        ))}
      </ul>
    </Dialog>
  );
}

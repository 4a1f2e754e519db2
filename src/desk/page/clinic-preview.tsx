/** The clinic's letter, and a sheet to try an envelope with, as changes come to on paper before anything is written. */
import type { JSX } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Edit, Refusal } from "../messages.js";
import { askClinicSheet, askFile } from "./ask.js";
import { Saying } from "./clinic-fields.js";
import { Pages } from "./pages.js";
import { Segments } from "./segments.js";

const SHOW_AFTER_MS = 150;

export function ClinicPreview({
  name,
  edits,
  window,
}: {
  readonly name: string;
  readonly edits: readonly Edit[];
  readonly window: string;
}): JSX.Element {
  const [show, setShow] = useState<"letter" | "window">("letter");
  const [settled, settle] = useState({ name, edits, window });
  const [refused, setRefused] = useState<Refusal | null>(null);
  useEffect(() => {
    const soon = setTimeout(() => settle({ name, edits, window }), SHOW_AFTER_MS);
    return () => clearTimeout(soon);
  }, [name]);
  const isShown = show === "letter" || settled.window !== "none";
  return (
    <aside class="side" aria-label="As it will print">
      <div class="preview-acts">
        <Segments
          label="Show"
          value={show}
          options={[
            ["letter", "Letter"],
            ["window", "Envelope test"],
          ]}
          choose={(chosen) => setShow(chosen === "window" ? "window" : "letter")}
        />
        {show === "window" && isShown ? (
          <button type="button" onClick={() => void askFile("clinic-sheet", { edits, show: "window" })}>
            Keep as PDF
          </button>
        ) : null}
      </div>
      {isShown ? null : <p class="empty">Choose the window of the envelope first.</p>}
      {refused && isShown ? (
        <div class="notice warning">
          <p>{refused.refused}</p>
          <Saying
            problems={(refused.problems ?? []).filter(({ severity }) => severity === "error")}
            id="refused"
          />
        </div>
      ) : null}
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by key */}
      <section class="pane sheet" tabIndex={0} aria-label="Pages">
        <Pages
          name={isShown ? `${show} ${settled.name}` : null}
          ask={() => askClinicSheet(settled.edits, show)}
          refused={setRefused}
        />
      </section>
    </aside>
  );
}

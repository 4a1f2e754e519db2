/** A document of the visit page by page, from the very bytes that would be printed; the letter to each of its readers. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Problem } from "../../base/problem.js";
import type { Sheet } from "../messages.js";
import { askSheet } from "./ask.js";
import { Pages } from "./pages.js";
import { ProblemLine } from "./problems-view.js";
import { Segments } from "./segments.js";
import { useHere } from "./use.js";

interface SheetProps {
  readonly file: string;
  readonly sheet: Sheet | null;
  readonly title: string;
  readonly goToProblems: () => void;
}

export function SheetView({ file, sheet, title, goToProblems }: SheetProps): JSX.Element {
  const { visit } = useHere();
  const [unprintable, setUnprintable] = useState<readonly Problem[]>([]);
  const key = sheet?.key ?? null;
  const readers = sheet?.readers ?? [];
  return (
    <div class="sheet">
      {readers.length > 1 ? (
        <Segments
          label="Letter to"
          value={String(visit.reader < readers.length ? visit.reader : 0)}
          options={readers.map((name, i) => [String(i), name] as const)}
          choose={(reader) => void visit.showReader(Number(reader))}
        />
      ) : null}
      {visit.state.isUnweighed ? (
        <p class="hint">The {title} is being made.</p>
      ) : key === null ? (
        <div class="no-sheet">
          <p>The {title} appears here as soon as nothing stands in its way.</p>
          <button type="button" onClick={goToProblems}>
            See what is missing
          </button>
        </div>
      ) : sheet?.stale ? (
        <p class="stale">
          <span class="mark" aria-hidden="true" />
          Shown as it was before the last error.{" "}
          <button type="button" class="plain" onClick={goToProblems}>
            See the error
          </button>
        </p>
      ) : null}
      {unprintable.length > 0 ? (
        <ul class="problems unprintable" aria-label="What cannot be printed">
          {unprintable.map((problem) => (
            <ProblemLine key={`${problem.id} ${problem.message}`} problem={problem} />
          ))}
        </ul>
      ) : null}
      <Pages
        name={sheet && key !== null ? `${file} ${sheet.kind} ${key}` : null}
        ask={() =>
          sheet
            ? askSheet(file, { pane: sheet.kind, reader: sheet.reader })
            : Promise.resolve({ kind: "away" })
        }
        refused={(refusal) => setUnprintable(refusal?.problems ?? [])}
      />
    </div>
  );
}

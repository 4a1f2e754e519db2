/** Visits from a table of another program: chosen, its columns placed, shown as they would be read, then written, all of them or none. */
import type { JSX } from "preact";
import { useRef, useState } from "preact/hooks";
import type { Problem } from "../../base/problem.js";
import type { TableLine, TableTried } from "../list-messages.js";
import type { Edit } from "../messages.js";
import { askTableTake, askTableTry, whyNot } from "./ask.js";
import { base64 } from "./base64.js";
import { ChooseFile } from "./choose-file.js";
import { Dialog } from "./dialog.js";
import { TableColumns } from "./table-columns.js";
import type { Words } from "./use.js";

interface TableProps {
  readonly words: Words;
  readonly close: () => void;
  /** Told when the folder holds other visits. */
  readonly changed: () => void;
}

interface Chosen {
  readonly name: string;
  readonly bytes: string;
}

/** So many visits are shown one by one, those with a problem first. */
const SHOWN = 50;

export function TableDialog({ words, close, changed }: TableProps): JSX.Element {
  const [table, setTable] = useState<Chosen | null>(null);
  const [tried, setTried] = useState<TableTried | null>(null);
  const [mapping, setMapping] = useState("");
  const [said, say] = useState("");
  /** The newest text; each change is made on what came of the one before. */
  const newest = useRef("");
  const way = useRef(Promise.resolve());
  const take = (text: string) => {
    newest.current = text;
    setMapping(text);
  };
  const look = async (
    chosen: Chosen,
    how: { readonly mapping?: string; readonly edits?: readonly Edit[] },
  ) => {
    const answer = await askTableTry({ ...chosen, ...how });
    say(whyNot(answer));
    if (answer.kind !== "done") return;
    setTried(answer.value);
    take(answer.value.mapping);
  };
  const change = (...edits: readonly Edit[]) => {
    if (table) way.current = way.current.then(() => look(table, { mapping: newest.current, edits }));
  };
  const choose = async (file: File) => {
    const chosen = { name: file.name, bytes: await base64(file) };
    setTried(null);
    setTable(chosen);
    await look(chosen, {});
  };
  const write = async () => {
    if (!table) return;
    const answer = await askTableTake({ ...table, mapping });
    if (answer.kind !== "done") return say(whyNot(answer));
    const { length } = answer.value.files;
    say(`${length} ${length === 1 ? "visit was" : "visits were"} written.`);
    setTried(null);
    setTable(null);
    changed();
  };
  const isSame = tried !== null && mapping === tried.mapping;
  return (
    <Dialog title="Visits from a table" close={close} said={said} isWide>
      <p class="hint">
        A CSV export or an Excel workbook (.xlsx), one row for each visit or each place looked at. Nothing is
        written before you say so.
      </p>
      <p class="acts">
        <ChooseFile
          label={table ? "Choose another table" : "Choose a table"}
          accept=".csv,.tsv,.txt,.xlsx,text/csv"
          take={(file) => void choose(file)}
        />
        {table ? <span>{table.name}</span> : null}
      </p>
      {table && tried ? (
        <>
          {tried.form ? <TableColumns form={tried.form} words={words} change={change} /> : null}
          <details open={tried.form === null}>
            <summary>The same as text</summary>
            <div class="field">
              <label for="table-mapping">
                What each column is{" "}
                <span class="hint">column: place in the visit; kept as mapping.yaml for the next table</span>
              </label>
              <textarea
                id="table-mapping"
                class="code"
                rows={12}
                spellcheck={false}
                value={mapping}
                onInput={(event) => take(event.currentTarget.value)}
              />
            </div>
          </details>
          <Problems problems={tried.problems} />
          <Lines visits={tried.visits} />
          <p class="acts">
            <button
              type="button"
              class={isSame ? "" : "main"}
              disabled={isSame}
              onClick={() => void look(table, { mapping })}
            >
              Read again
            </button>
            <button
              type="button"
              class={isSame && tried.isReady ? "main" : ""}
              disabled={!isSame || !tried.isReady}
              onClick={() => void write()}
            >
              {tried.visits.length === 1 ? "Write the visit" : `Write all ${tried.visits.length} visits`}
            </button>
          </p>
        </>
      ) : null}
    </Dialog>
  );
}

function Problems({ problems }: { readonly problems: readonly Problem[] }): JSX.Element | null {
  if (problems.length === 0) return null;
  return (
    <ul class="notice warning">
      {problems.map(({ id, message, line, expected }) => (
        <li key={`${id} ${line ?? ""} ${message}`}>
          {line === undefined ? "" : `Line ${line}: `}
          {message}
          {expected ? <span class="hint"> {expected}</span> : null}
        </li>
      ))}
    </ul>
  );
}
function Lines({ visits }: { readonly visits: readonly TableLine[] }): JSX.Element {
  const isBad = ({ file, isTaken }: TableLine) => file === "" || isTaken;
  const inOrder = [...visits].sort((a, b) => Number(isBad(b)) - Number(isBad(a)) || a.row - b.row);
  return (
    <>
      <p>
        {visits.length} {visits.length === 1 ? "visit" : "visits"}, {visits.filter(isBad).length} of them
        cannot be written.
      </p>
      <ul class="line-list">
        {inOrder.slice(0, SHOWN).map((line) => (
          <li key={line.row}>
            <span>
              Row {line.row}: {line.date} {line.patient} <span class="hint">{line.file}</span>
              {line.isTaken ? <b> There is such a file already.</b> : null}
              {line.problems.map(({ id, message, severity }) => (
                <span key={`${id} ${message}`} class={`said ${severity}`}>
                  {message}
                </span>
              ))}
            </span>
          </li>
        ))}
      </ul>
      {inOrder.length > SHOWN ? <p class="hint">and {inOrder.length - SHOWN} more</p> : null}
    </>
  );
}

/** One finding: its drawing, its term, what is recorded, and all amounts one key or one tap away. */
import type { JSX, TargetedKeyboardEvent } from "preact";
import { useState } from "preact/hooks";
import type { Visit } from "../../visit/visit.js";
import type { FindingEntry } from "../messages.js";
import { AMOUNT_KEYS, type Amount, inWords, type Recorded } from "./amounts.js";
import { imageOf } from "./combo.js";
import { Said } from "./fields.js";
import { useHere } from "./use.js";

interface RowProps {
  readonly finding: FindingEntry;
  readonly site: number;
  readonly recorded: Recorded | undefined;
  readonly isOpen: boolean;
  /** The one row of the group that the Tab key stops at. */
  readonly isStop: boolean;
  readonly open: (yes: boolean) => void;
  readonly record: (amount: Amount) => void;
  readonly move: (by: number) => void;
  readonly stroke: () => void;
}

export function FindingRow(props: RowProps): JSX.Element {
  const { finding, site, recorded, isOpen, isStop, open, record, move, stroke } = props;
  const { visit, words } = useHere();
  const written = inWords(recorded);
  const region = words.regionOf.find(siteName(visit.written, site)) ?? "";
  const before = beforeOf(visit.state.earlier, region, finding.id);
  const onKeyDown = (event: TargetedKeyboardEvent<HTMLButtonElement>) => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const key = event.key.toLowerCase();
    const amount = AMOUNT_KEYS.find((a) => a.key === key);
    if (key === "arrowdown" || key === "arrowright") move(1);
    else if (key === "arrowup" || key === "arrowleft") move(-1);
    else if (key === ")" || (event.shiftKey && event.code === "Digit0")) stroke();
    else if (visit.state.signed) return;
    else if (amount) record(amount.word);
    else if (key === "x" || key === "delete" || key === "backspace") record(null);
    else if (key === "c") {
      open(true);
      requestAnimationFrame(() => document.querySelector<HTMLInputElement>(".counted input")?.focus());
    } else return;
    event.preventDefault();
  };
  const path = ["sites", site, "findings", recorded?.key ?? finding.term];
  const id = `said-${finding.id}`;
  return (
    <li
      class={`finding ${recorded ? (recorded.word === "none" ? "absent" : "present") : ""}${isOpen ? " open" : ""}`}
    >
      <div class="line">
        <button
          type="button"
          class="row"
          data-finding={finding.id}
          data-place={`sites[${site}].findings.${recorded?.key ?? finding.term}`}
          tabIndex={isStop ? 0 : -1}
          aria-expanded={isOpen}
          title={finding.what}
          onClick={() => open(!isOpen)}
          onKeyDown={onKeyDown}
        >
          <img src={imageOf(finding.picture)} alt="" width={30} height={30} />
          <span class="term">
            {finding.term}
            {before ? <span class="hint"> before: {before}</span> : null}
          </span>
          <span class="amount">
            {recorded && PAD.every(({ word }) => word !== recorded.word) ? written : ""}
          </span>
          <span class="unseen">{written === "" ? "not assessed" : written}</span>
        </button>
        {/* Keys do the same on the row itself; the Tab key need not stop at each amount. */}
        <span class="pad">
          {PAD.map(({ key, word, label }) => (
            <button
              key={key}
              type="button"
              tabIndex={-1}
              aria-label={`${finding.term}: ${key} ${label}`}
              aria-pressed={recorded?.word === word}
              disabled={visit.state.signed}
              onClick={() => record(recorded?.word === word ? null : word)}
            >
              <kbd>{key}</kbd> <small>{label}</small>
            </button>
          ))}
        </span>
      </div>
      {isOpen ? <Amounts {...props} /> : null}
      <Said path={path} id={id} />
    </li>
  );
}

/** Not seen, and the five amounts. */
const PAD = AMOUNT_KEYS.filter(({ key }) => key !== "s");

function Amounts({ finding, recorded, record, open }: RowProps): JSX.Element {
  const { visit } = useHere();
  const [count, setCount] = useState(recorded?.count?.count ?? "");
  const [fields, setFields] = useState(recorded?.count?.fields ?? "1");
  const counted = (c: string, f: string) => {
    setCount(c);
    setFields(f);
    if (c !== "") record({ count: c, fields: f === "" ? "1" : f });
  };
  return (
    <div class="amounts">
      <p class="what">
        {finding.what}
        {finding.look ? <span class="look">Where or how to look: {finding.look}.</span> : null}
      </p>
      <div class="keys">
        <button
          type="button"
          aria-pressed={recorded?.word === "seen"}
          disabled={visit.state.signed}
          onClick={() => record("seen")}
        >
          <kbd>s</kbd> seen, amount not said
        </button>
        <button
          type="button"
          class="plain"
          disabled={!recorded || visit.state.signed}
          onClick={() => record(null)}
        >
          <kbd>x</kbd> clear
        </button>
      </div>
      <div class="counted">
        <label>
          Counted
          <input
            type="text"
            inputMode="numeric"
            value={count}
            readOnly={visit.state.signed}
            onInput={(event) => counted(event.currentTarget.value, fields)}
          />
        </label>
        <label>
          in fields of view
          <input
            type="text"
            inputMode="numeric"
            value={fields}
            readOnly={visit.state.signed}
            onInput={(event) => counted(count, event.currentTarget.value)}
          />
        </label>
        <button type="button" class="plain" onClick={() => open(false)}>
          Done
        </button>
      </div>
    </div>
  );
}

function siteName(written: { readonly [key: string]: unknown }, site: number): string {
  const sites = written.sites;
  const entry: unknown = Array.isArray(sites) ? sites[site] : undefined;
  return typeof entry === "object" && entry !== null && "site" in entry ? String(entry.site) : "";
}

/** What the last visit recorded of a finding in the same region; empty when it recorded nothing. */
export function beforeOf(earlier: readonly Visit[], region: string, finding: string): string {
  const last = earlier.at(-1);
  const seen = last?.sites
    .filter(({ site }) => site === region)
    .flatMap(({ findings }) => findings)
    .find((f) => f.finding === finding)?.seen;
  if (!seen) return "";
  if (seen.state === "absent") return "not seen";
  return seen.count ? `${seen.count.count} in ${seen.count.fields}` : (seen.amount ?? "seen");
}

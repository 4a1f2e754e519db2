/** Findings of one place: typed or dictated, or one touch each; the likeliest first, then those of the last visit, then all. */
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { FindingEntry } from "../messages.js";
import {
  type Amount,
  amountEdits,
  inWords,
  type Recorded,
  recordedAt,
  restNotSeen,
  takeBack,
} from "./amounts.js";
import { textAt } from "./apply.js";
import { FindingRow } from "./finding-row.js";
import { LastVisit } from "./last-visit.js";
import { sizeSite } from "./sites.js";
import { TypedLine } from "./typed-line.js";
import { useHere } from "./use.js";

export const GROUPS = ["hair shaft", "follicular opening", "skin surface", "vessel"] as const;
/** The first of the lists: what is likeliest at this place. */
export const LIKELY = "likely here";
const LISTS = [LIKELY, ...GROUPS] as const;

export function Findings({ site }: { readonly site: number }): JSX.Element {
  const { visit, words, group, chooseGroup, announce } = useHere();
  const field = useRef<HTMLInputElement>(null);
  const [opened, setOpened] = useState<string | null>(null);
  const recorded = recordedAt(visit.written, site, words);
  const region = words.regionOf.find(textAt(visit.written, ["sites", site, "site"])) ?? "";
  const record = (finding: FindingEntry, amount: Amount) => {
    visit.edit(...amountEdits(visit.written, site, finding, amount, words));
    const said =
      amount === null ? "cleared" : typeof amount === "string" ? amount : `${amount.count} counted`;
    announce(`${region}, ${finding.term}: ${said}`);
  };
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key.toLowerCase() !== "k" || !(event.ctrlKey || event.metaKey)) return;
      event.preventDefault();
      field.current?.focus();
      field.current?.scrollIntoView({ block: "center" });
    };
    addEventListener("keydown", onKey);
    return () => removeEventListener("keydown", onKey);
  }, []);
  const present = [...recorded.values()].filter(({ word }) => word !== "none");
  const absent = [...recorded.values()].filter(({ word }) => word === "none");
  return (
    <div class="findings">
      <TypedLine
        input={field}
        record={record}
        resize={(length, width) => {
          visit.edit(...sizeSite(site, { length, width }));
          announce(`${region}: patch ${length} by ${width} millimetres`);
        }}
      />
      <p class="tally">
        {present.length === 0 && absent.length === 0 ? "Nothing recorded at this place yet." : null}
        {present.map((r) => (
          <span key={r.finding} class="seen">
            {words.byId.get(r.finding)?.term ?? r.key} <b>{inWords(r)}</b>
          </span>
        ))}
        {absent.length > 0 ? <span class="not-seen">{absent.length} looked for and not seen</span> : null}
      </p>
      <LastVisit site={site} region={region} recorded={recorded} record={record} />
      <div role="tablist" aria-label="Lists of findings" class="group-tabs">
        {LISTS.map((name, i) => (
          <button
            key={name}
            type="button"
            role="tab"
            id={tabId(name)}
            aria-selected={name === group}
            aria-controls="group-panel"
            tabIndex={name === group ? 0 : -1}
            onClick={() => chooseGroup(name)}
            onKeyDown={(event) => {
              const step = event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? LISTS.length - 1 : 0;
              if (step === 0) return;
              const next = LISTS[(i + step) % LISTS.length] ?? name;
              chooseGroup(next);
              document.getElementById(tabId(next))?.focus();
            }}
          >
            {name}
            {name === LIKELY ? null : <Tally group={name} recorded={recorded} />}
          </button>
        ))}
      </div>
      <List
        site={site}
        region={region}
        list={group}
        recorded={recorded}
        opened={opened}
        open={setOpened}
        record={record}
      />
    </div>
  );
}

const tabId = (list: string): string => `tab-${list.replaceAll(" ", "-")}`;

function Tally({
  group,
  recorded,
}: {
  readonly group: string;
  readonly recorded: ReadonlyMap<string, Recorded>;
}): JSX.Element | null {
  const { words } = useHere();
  const here = [...recorded.values()].filter(({ finding }) => words.byId.get(finding)?.group === group);
  const seen = here.filter(({ word }) => word !== "none").length;
  if (here.length === 0) return null;
  return (
    <span class="count">
      {seen}
      <span class="unseen"> seen</span>
    </span>
  );
}

interface ListProps {
  readonly site: number;
  readonly region: string;
  readonly list: string;
  readonly recorded: ReadonlyMap<string, Recorded>;
  readonly opened: string | null;
  readonly open: (finding: string | null) => void;
  readonly record: (finding: FindingEntry, amount: Amount) => void;
}

/** Rows never move under the hand: what becomes likely while a place is recorded joins below. */
function useSteady(place: string, likely: readonly string[]): readonly string[] {
  const shown = useRef<{ place: string; ids: readonly string[] }>({ place, ids: [] });
  const before = shown.current.place === place ? shown.current.ids : [];
  const ids = [...before, ...likely.filter((id) => !before.includes(id))];
  shown.current = { place, ids };
  return ids;
}

function List({ site, region, list, recorded, opened, open, record }: ListProps): JSX.Element {
  const { visit, words, announce } = useHere();
  const [current, setCurrent] = useState(0);
  const likely = useSteady(`${site} ${region}`, visit.state.likely[region] ?? []);
  const findings =
    list === LIKELY
      ? likely.flatMap((id) => words.byId.get(id) ?? [])
      : words.findings
          .filter((f) => f.group === list && (f.onlyAt?.includes(region) ?? true))
          .sort((a, b) => a.term.localeCompare(b.term, "en"));
  // What most healthy scalps show is not denied with the rest.
  const telling = findings.filter(({ id }) => !visit.state.usual.includes(id));
  const rest = restNotSeen(visit.written, site, telling, words);
  const restCount = telling.filter(({ id }) => !recorded.has(id)).length;
  const back = takeBack(visit.written, site, findings, words);
  const stroke = () => {
    if (rest.length === 0 || visit.state.signed) return;
    visit.edit(...rest);
    announce(`${restCount} findings of this list are recorded as looked for and not seen`);
  };
  const move = (from: number, by: number) => {
    const next = Math.max(0, Math.min(findings.length - 1, from + by));
    setCurrent(next);
    const row = document.querySelector<HTMLElement>(`[data-finding="${findings[next]?.id}"]`);
    row?.focus();
  };
  return (
    <div role="tabpanel" id="group-panel" aria-labelledby={tabId(list)}>
      <div class="stroke">
        <button type="button" onClick={stroke} disabled={rest.length === 0 || visit.state.signed}>
          {telling.length > 0 && restCount === telling.length
            ? "None of these seen"
            : "Nothing else of these seen"}
          {restCount > 0 ? <span class="count">{restCount}</span> : null}
        </button>
        <button
          type="button"
          class="plain"
          onClick={() => visit.edit(...back)}
          disabled={back.length === 0 || visit.state.signed}
        >
          Take that back
        </button>
        <span class="hint keys-hint">
          On a finding: 0 not seen, 1 single to 5 throughout, s seen, c count, x clear
        </span>
      </div>
      {findings.length === 0 ? (
        <p class="hint">
          {visit.state.isUnweighed
            ? "The likeliest findings are being worked out; all others stand in the lists beside."
            : "The likeliest findings stand here once the place has a region and the visit can be read."}
        </p>
      ) : null}
      <ul class="rows">
        {findings.map((finding, i) => (
          <FindingRow
            key={finding.id}
            finding={finding}
            site={site}
            recorded={recorded.get(finding.id)}
            isOpen={opened === finding.id}
            isStop={i === Math.min(current, findings.length - 1)}
            open={(yes) => {
              setCurrent(i);
              open(yes ? finding.id : null);
            }}
            record={(amount) => record(finding, amount)}
            move={(by) => move(i, by)}
            stroke={stroke}
          />
        ))}
      </ul>
    </div>
  );
}

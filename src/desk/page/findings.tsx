/** Findings of one site: typed with their amount, or chosen from the four groups with one key each. */
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { FindingEntry } from "../messages.js";
import {
  AMOUNT_KEYS,
  type Amount,
  amountEdits,
  inWords,
  type Recorded,
  recordedAt,
  restNotSeen,
  takeBack,
} from "./amounts.js";
import { Combo, imageOf } from "./combo.js";
import { FindingRow } from "./finding-row.js";
import { matches } from "./match.js";
import { useHere } from "./use.js";

export const GROUPS = ["hair shaft", "follicular opening", "skin surface", "vessel"] as const;

/** `yellow dots 2` -> the words and the amount at their end. */
function split(typed: string): { words: string; amount: string | undefined } {
  const found = /^(.*\S)\s+(\S+)$/u.exec(typed.trimStart());
  const last = found?.[2]?.toLowerCase();
  const amount = AMOUNT_KEYS.find(({ key, word }) => key === last || word === last);
  // The letter s alone may begin a word; only digits and whole words end one.
  return amount && last !== "s"
    ? { words: found?.[1] ?? "", amount: amount.word }
    : { words: typed, amount: undefined };
}

export function Findings({ site }: { readonly site: number }): JSX.Element {
  const { visit, words, group, chooseGroup, announce } = useHere();
  const field = useRef<HTMLInputElement>(null);
  const [opened, setOpened] = useState<string | null>(null);
  const recorded = recordedAt(visit.written, site, words);
  const record = (finding: FindingEntry, amount: Amount) => {
    visit.edit(...amountEdits(visit.written, site, finding, amount, words));
    const said =
      amount === null ? "cleared" : typeof amount === "string" ? amount : `${amount.count} counted`;
    announce(`${finding.term}: ${said}`);
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
      <Combo
        label="Find a finding"
        hint="type a few letters and an amount, such as yel 2 (Ctrl K)"
        entries={words.findings}
        picture={(finding) => imageOf(finding.picture)}
        lookUp={(typed) => split(typed).words}
        input={field}
        disabled={visit.state.signed}
        onTyped={(typed) => {
          const { words: name, amount } = split(typed);
          const finding = matches(name, words.findings)[0]?.entry;
          // A full term with its amount needs no Enter.
          if (!amount || !finding || finding.term !== name.trim()) return false;
          record(finding, amount);
          return true;
        }}
        onTake={(finding, typed) => {
          const { amount } = split(typed);
          chooseGroup(finding.group);
          if (!amount) return `${finding.term} `;
          record(finding, amount);
          return "";
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
      <div role="tablist" aria-label="Groups of findings" class="group-tabs">
        {GROUPS.map((name) => (
          <button
            key={name}
            type="button"
            role="tab"
            id={`tab-${name.replace(" ", "-")}`}
            aria-selected={name === group}
            aria-controls="group-panel"
            tabIndex={name === group ? 0 : -1}
            onClick={() => chooseGroup(name)}
            onKeyDown={(event) => {
              const step = event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? 3 : 0;
              if (step === 0) return;
              const next = GROUPS[(GROUPS.indexOf(name) + step) % GROUPS.length] ?? name;
              chooseGroup(next);
              document.getElementById(`tab-${next.replace(" ", "-")}`)?.focus();
            }}
          >
            {name}
            <Tally group={name} recorded={recorded} />
          </button>
        ))}
      </div>
      <GroupPanel
        site={site}
        group={group}
        recorded={recorded}
        opened={opened}
        open={setOpened}
        record={record}
      />
    </div>
  );
}

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
  const all = words.findings.filter((f) => f.group === group).length;
  if (here.length === 0) return null;
  return (
    <span class="count">
      {seen}
      <span class="unseen"> seen</span>
      {here.length === all ? <span title="all looked for"> ✓</span> : null}
    </span>
  );
}

interface PanelProps {
  readonly site: number;
  readonly group: string;
  readonly recorded: ReadonlyMap<string, Recorded>;
  readonly opened: string | null;
  readonly open: (finding: string | null) => void;
  readonly record: (finding: FindingEntry, amount: Amount) => void;
}

function GroupPanel({ site, group, recorded, opened, open, record }: PanelProps): JSX.Element {
  const { visit, words, announce } = useHere();
  const [current, setCurrent] = useState(0);
  const findings = words.findings
    .filter((f) => f.group === group)
    .sort((a, b) => a.term.localeCompare(b.term, "en"));
  const rest = restNotSeen(visit.written, site, findings, words);
  const back = takeBack(visit.written, site, findings, words);
  const stroke = () => {
    if (rest.length === 0) return;
    visit.edit(...rest);
    announce(`Everything else of the group ${group} is recorded as looked for and not seen`);
  };
  const move = (from: number, by: number) => {
    const next = Math.max(0, Math.min(findings.length - 1, from + by));
    setCurrent(next);
    const row = document.querySelector<HTMLElement>(`[data-finding="${findings[next]?.id}"]`);
    row?.focus();
  };
  return (
    <div role="tabpanel" id="group-panel" aria-labelledby={`tab-${group.replace(" ", "-")}`}>
      <div class="stroke">
        <button type="button" onClick={stroke} disabled={rest.length === 0 || visit.state.signed}>
          Nothing else seen in this group
        </button>
        <button
          type="button"
          class="plain"
          onClick={() => visit.edit(...back)}
          disabled={back.length === 0 || visit.state.signed}
        >
          Take that back
        </button>
        <span class="hint">On a finding: 0 not seen, 1 single to 5 throughout, s seen, c count, x clear</span>
      </div>
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

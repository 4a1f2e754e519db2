/** What the last visit saw at this place, each finding to be called the same, less, more or gone in one touch. */
import type { JSX } from "preact";
import type { FindingSeen } from "../../visit/visit.js";
import { AMOUNTS, type Amount as Word } from "../../visit/visit.js";
import type { FindingEntry } from "../messages.js";
import type { Amount, Recorded } from "./amounts.js";
import { listAt, textAt } from "./apply.js";
import { useHere } from "./use.js";

interface LastProps {
  readonly site: number;
  readonly region: string;
  readonly recorded: ReadonlyMap<string, Recorded>;
  readonly record: (finding: FindingEntry, amount: Amount) => void;
}

export function LastVisit({ site, region, recorded, record }: LastProps): JSX.Element | null {
  const { visit, words } = useHere();
  const last = visit.state.earlier.at(-1);
  if (!last || region === "" || visit.state.signed) return null;
  // The second left parietal place of this visit is the second one of that visit.
  const before = listAt(visit.written, ["sites"])
    .slice(0, site)
    .filter((entry) => words.regionOf.find(textAt(entry, ["site"])) === region).length;
  const then = last.sites.filter((s) => s.site === region)[before];
  const open = (then?.findings ?? []).filter(
    ({ finding, seen }) => seen.state === "present" && !recorded.has(finding),
  );
  if (open.length === 0) return null;
  return (
    <section class="last-visit" aria-label={`Seen here on ${last.date}`}>
      <h3>Seen here on {last.date}</h3>
      <ul>
        {open.map((seen) => {
          const finding = words.byId.get(seen.finding);
          return finding ? (
            <li key={seen.finding}>
              <span class="term">
                {finding.term} <span class="hint">{wordOf(seen)}</span>
              </span>
              <span class="steps-of">
                {stepsOf(seen).map(({ name, amount }) => (
                  <button
                    key={name}
                    type="button"
                    aria-label={`${finding.term}: ${name} ${amount === "none" ? "not seen" : amount}`}
                    onClick={() => record(finding, amount)}
                  >
                    {name} <small>{amount === "none" ? "not seen" : amount}</small>
                  </button>
                ))}
              </span>
            </li>
          ) : null;
        })}
      </ul>
    </section>
  );
}

function amountOf({ seen }: FindingSeen): Word | null {
  if (seen.state === "absent") return null;
  if (!seen.count) return seen.amount;
  const each = seen.count.count / seen.count.fields;
  return each >= 10 ? "many" : each >= 4 ? "several" : each > 1 ? "few" : "single";
}

const wordOf = (seen: FindingSeen): string =>
  seen.seen.state === "present" && seen.seen.count
    ? `${seen.seen.count.count} in ${seen.seen.count.fields}`
    : (amountOf(seen) ?? "seen");

/** One step up or down the amounts; what was merely seen is the same or gone. */
export function stepsOf(seen: FindingSeen): { name: string; amount: string }[] {
  const word = amountOf(seen);
  const at = word === null ? -1 : AMOUNTS.indexOf(word);
  const less = AMOUNTS[at - 1];
  const more = at < 0 ? undefined : AMOUNTS[at + 1];
  return [
    { name: "same", amount: word ?? "seen" },
    ...(less ? [{ name: "less", amount: less }] : []),
    ...(more ? [{ name: "more", amount: more }] : []),
    { name: "gone", amount: "none" },
  ];
}

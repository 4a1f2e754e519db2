/** Amounts of a finding as the desk shows and takes them: one key each, counts beside. */
import { foldWord } from "../../base/nearest.js";
import { AMOUNTS } from "../../visit/visit.js";
import type { Edit, FindingEntry, Written } from "../messages.js";
import { mapAt, textsAt } from "./apply.js";
import type { Words } from "./use.js";

export interface AmountKey {
  readonly key: string;
  readonly word: string;
  readonly label: string;
}

/** Digit -> word of the file. */
export const AMOUNT_KEYS: readonly AmountKey[] = [
  { key: "0", word: "none", label: "not seen" },
  ...AMOUNTS.map((word, i) => ({ key: String(i + 1), word, label: word })),
  { key: "s", word: "seen", label: "seen" },
];

/** What stands in the file about one finding of one site. */
export interface Recorded {
  readonly finding: string;
  /** Name as written in the file. */
  readonly key: string;
  /** `none`, an amount, `seen`, or the text that nobody understands. */
  readonly word: string;
  readonly count?: { readonly count: string; readonly fields: string };
  /** True when it stands in the list of findings looked for and not seen. */
  readonly listed: boolean;
}

/** Everything recorded of a site, by finding id. */
export function recordedAt(written: Written, site: number, words: Words): Map<string, Recorded> {
  const found = new Map<string, Recorded>();
  for (const name of textsAt(written, ["sites", site, "none_of"])) {
    const finding = words.findingOf.find(name);
    if (finding) found.set(finding, { finding, key: name, word: "none", listed: true });
  }
  for (const [key, value] of Object.entries(mapAt(written, ["sites", site, "findings"]))) {
    const finding = words.findingOf.find(key);
    if (!finding || value === null) continue;
    if (typeof value === "string") found.set(finding, { finding, key, word: foldWord(value), listed: false });
    else if (!Array.isArray(value)) {
      const { count, fields } = value as { readonly [key: string]: Written };
      const text = (v: Written | undefined, other: string) => (typeof v === "string" ? v : other);
      found.set(finding, {
        finding,
        key,
        word: "counted",
        count: { count: text(count, ""), fields: text(fields, "1") },
        listed: false,
      });
    }
  }
  return found;
}

/** `several`, `14 in 2 fields`, `not seen`; empty for what was not assessed. */
export function inWords(recorded: Recorded | undefined): string {
  if (!recorded) return "";
  if (recorded.count) {
    const { count, fields } = recorded.count;
    return `${count} in ${fields} field${fields === "1" ? "" : "s"}`;
  }
  return AMOUNT_KEYS.find(({ word }) => word === recorded.word)?.label ?? recorded.word;
}

export type Amount = string | { readonly count: string; readonly fields: string } | null;

/** The edits that record a finding; null clears it. A finding leaves the not-seen list when it is seen. */
export function amountEdits(
  written: Written,
  site: number,
  finding: FindingEntry,
  amount: Amount,
  words: Words,
): Edit[] {
  const edits: Edit[] = [];
  const listed = textsAt(written, ["sites", site, "none_of"]);
  const others = listed.filter((name) => words.findingOf.find(name) !== finding.id);
  if (others.length < listed.length) {
    const path = ["sites", site, "none_of"];
    edits.push(others.length === 0 ? { do: "remove", path } : { do: "set", path, value: others });
  }
  const keys = Object.keys(mapAt(written, ["sites", site, "findings"])).filter(
    (key) => words.findingOf.find(key) === finding.id,
  );
  const path = ["sites", site, "findings", keys.at(-1) ?? finding.term];
  if (amount === null) {
    edits.push(...keys.map((key): Edit => ({ do: "remove", path: ["sites", site, "findings", key] })));
  } else edits.push({ do: "set", path, value: amount });
  return edits;
}

/** Marks what was not recorded of these findings as looked for and not seen, in one list. */
export function restNotSeen(
  written: Written,
  site: number,
  findings: readonly FindingEntry[],
  words: Words,
): Edit[] {
  const recorded = recordedAt(written, site, words);
  const rest = findings.filter(({ id }) => !recorded.has(id)).map(({ term }) => term);
  if (rest.length === 0) return [];
  const listed = textsAt(written, ["sites", site, "none_of"]);
  return [{ do: "set", path: ["sites", site, "none_of"], value: [...listed, ...rest] }];
}

/** Takes these findings off the not-seen list. */
export function takeBack(
  written: Written,
  site: number,
  findings: readonly FindingEntry[],
  words: Words,
): Edit[] {
  const ids = new Set(findings.map(({ id }) => id));
  const path = ["sites", site, "none_of"];
  const listed = textsAt(written, path);
  const kept = listed.filter((name) => !ids.has(words.findingOf.find(name) ?? ""));
  if (kept.length === listed.length) return [];
  return kept.length === 0 ? [{ do: "remove", path }] : [{ do: "set", path, value: kept }];
}

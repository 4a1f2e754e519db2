/** The clinic file as the form holds it: what was read, what was changed, and the edits that lead from one to the other. */
import type { KeyPath } from "../../base/yaml-source.js";
import { givenOf } from "../given.js";
import type { ClinicState, Edit, Written } from "../messages.js";
import { type Holder, isMap } from "./align.js";
import { apply, listAt, mapAt, textAt } from "./apply.js";

export interface PersonDraft {
  /** Key in the file; empty for somebody new, whose key comes from the name. */
  readonly key: string;
  readonly fields: Holder;
}

export interface ClinicDraft {
  /** The file that the draft was begun on. */
  readonly from: ClinicState;
  /** All but the people. */
  readonly written: Holder;
  readonly people: readonly PersonDraft[];
}

/** In the order of the format. */
const PERSON_KEYS = ["name", "role", "qualifications", "registration", "may_sign"];

export function draftOf(from: ClinicState): ClinicDraft {
  return onText(from, from.written ?? {});
}

function onText(from: ClinicState, written: Holder): ClinicDraft {
  const people = Object.entries(mapAt(written, ["people"])).map(([key, fields]) => ({
    key,
    fields: isMap(fields) ? fields : {},
  }));
  // Somebody must see the patients.
  return { from, written, people: people.length > 0 ? people : [{ key: "", fields: { may_sign: "true" } }] };
}

export function put(draft: ClinicDraft, path: KeyPath, value: string | readonly string[]): ClinicDraft {
  const edit: Edit = value.length === 0 ? { do: "remove", path } : { do: "set", path, value };
  return { ...draft, written: apply(draft.written, [edit]) };
}

export function putPerson(draft: ClinicDraft, index: number, key: string, value: string): ClinicDraft {
  const people = draft.people.map((person, i) =>
    i === index ? { ...person, fields: { ...person.fields, [key]: value } } : person,
  );
  return { ...draft, people };
}

/** The same changes on the file as another program left it. */
export function rebased(draft: ClinicDraft, now: ClinicState): ClinicDraft {
  return onText(now, apply(now.written ?? {}, editsOf(draft)));
}

export function editsOf(draft: ClinicDraft): Edit[] {
  const taken = new Set(draft.people.map(({ key }) => key));
  const people: { [key: string]: Written } = {};
  for (const { key, fields } of draft.people) {
    const order = [...new Set([...PERSON_KEYS, ...Object.keys(fields)])];
    const filled = Object.fromEntries(
      order.flatMap((field) => {
        const value = fields[field];
        return value === undefined || value === "" ? [] : [[field, value]];
      }),
    );
    if (key === "" && textAt(fields, ["name"]).trim() === "" && textAt(fields, ["role"]).trim() === "")
      continue;
    const own = key === "" ? freeKey(textAt(fields, ["name"]), taken) : key;
    taken.add(own);
    people[own] = filled;
  }
  return between([], draft.from.written ?? {}, { ...draft.written, people });
}

const TITLES = /^(?:dr|prof|professor|mr|mrs|ms|miss|mx|sr|sra|herr|frau)\b\.?\s*/iu;

/** `Dr Anneli Thorsby` -> `anneli-thorsby`. */
function freeKey(name: string, taken: ReadonlySet<string>): string {
  let bare = name.trim();
  while (TITLES.test(bare)) bare = bare.replace(TITLES, "");
  const plain = bare
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-|-$/gu, "");
  const base = plain || "person";
  for (let n = 1; ; n++) {
    const key = n === 1 ? base : `${base}-${n}`;
    if (!taken.has(key)) return key;
  }
}

/** Edits that make one value of the other, as deep down as they differ, so that what stands around them stays as it was written. */
function between(path: KeyPath, before: Written | undefined, after: Written | undefined): Edit[] {
  const value = givenOf(after);
  if (JSON.stringify(givenOf(before)) === JSON.stringify(value)) return [];
  if (isMap(before) && isMap(after))
    return [...new Set([...Object.keys(before), ...Object.keys(after)])].flatMap((key) =>
      between([...path, key], before[key], after[key]),
    );
  if (Array.isArray(before) && Array.isArray(after) && before.length > 0 && after.length >= before.length)
    return after.flatMap((entry: Written, i) =>
      between([...path, i], before[i] as Written | undefined, entry),
    );
  const isEmpty =
    value === undefined || value === "" || (typeof value === "object" && Object.keys(value).length === 0);
  if (!isEmpty) return [{ do: "set", path, value }];
  return before === undefined || before === null ? [] : [{ do: "remove", path }];
}

/** Lines of a list of texts. */
export const linesAt = (written: Holder, key: string): readonly string[] =>
  listAt(written, [key]).filter((line): line is string => typeof line === "string");

/** The same edits on the page's own copy, so that a stroke shows before the server has answered. The server's text stays the truth. */
import type { KeyPath } from "../../base/yaml-source.js";
import type { Edit, Given, Written } from "../messages.js";
import { type Holder, isMap } from "./align.js";
import { freshName, nameSlots, namesOf } from "./identity.js";

/** The value with the edits made; what cannot be done is left to the server to refuse. */
export function apply(written: Holder, edits: readonly Edit[]): Holder {
  return edits.reduce<Holder>((now, edit) => {
    const next = edit.do === "set" ? put(now, edit.path, edit.value) : drop(now, edit.path);
    return isMap(next) ? next : {};
  }, written);
}

/** The value at a path; undefined when there is none. */
export function valueAt(written: Written | undefined, path: KeyPath): Written | undefined {
  let here: Written | undefined = written;
  for (const step of path) {
    if (Array.isArray(here) && typeof step === "number") here = here[step];
    else if (isMap(here) && typeof step === "string" && Object.hasOwn(here, step)) here = here[step];
    else return undefined;
  }
  return here;
}

export function textAt(written: Written | undefined, path: KeyPath): string {
  const value = valueAt(written, path);
  return typeof value === "string" ? value : "";
}

export function listAt(written: Written | undefined, path: KeyPath): readonly Written[] {
  const value = valueAt(written, path);
  return Array.isArray(value) ? value : [];
}

/** The texts of a list; one text alone counts as a list of one, as the reader has it. */
export function textsAt(written: Written | undefined, path: KeyPath): string[] {
  const alone = textAt(written, path);
  return alone === ""
    ? listAt(written, path).filter((text): text is string => typeof text === "string")
    : [alone];
}

export function mapAt(written: Written | undefined, path: KeyPath): Holder {
  const value = valueAt(written, path);
  return isMap(value) ? value : {};
}

function put(holder: Written | undefined, path: KeyPath, value: Given): Written {
  const [step, ...rest] = path;
  if (step === undefined) return asWritten(value);
  if (typeof step === "number") {
    const before: readonly Written[] = Array.isArray(holder) ? holder : [];
    const list = [...before];
    list[Math.min(step, list.length)] = put(list[step], rest, value);
    const names = namesOf(before);
    nameSlots(list, list.length > names.length ? [...names, freshName()] : names);
    return list;
  }
  const map = isMap(holder) ? holder : {};
  return { ...map, [step]: put(map[step], rest, value) };
}

function asWritten(value: Given): Written {
  if (typeof value !== "object") return String(value);
  if (Array.isArray(value)) return value.map(asWritten);
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, inner]) =>
      inner === undefined || inner === "" ? [] : [[key, asWritten(inner as Given)]],
    ),
  );
}

/** Undefined when nothing is left. */
function drop(holder: Written | undefined, path: KeyPath): Written | undefined {
  const [step, ...rest] = path;
  if (step === undefined || holder === undefined) return undefined;
  if (Array.isArray(holder) && typeof step === "number") {
    const inner = drop(holder[step], rest);
    const list = holder.flatMap((entry: Written, i) =>
      i !== step ? [entry] : inner === undefined ? [] : [inner],
    );
    nameSlots(list, inner === undefined ? namesOf(holder).filter((_, i) => i !== step) : namesOf(holder));
    return list.length > 0 ? list : undefined;
  }
  if (!isMap(holder) || typeof step !== "string") return holder;
  const { [step]: old, ...others } = holder;
  const inner = drop(old, rest);
  if (inner !== undefined) return { ...holder, [step]: inner };
  return Object.keys(others).length > 0 ? others : undefined;
}

/** A first sheet for a new visit: the few facts that name it, and for a follow-up what stays the same from visit to visit. */
import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import { isOrdinaryFile } from "../clinic-folder/find.js";
import { liesInside, safeName, writeWhole } from "../files/write.js";
import { readText } from "../visit/read.js";
import type { Desk } from "./desk.js";
import { editText, writtenIn } from "./edit-yaml.js";
import { nameOf, visitPath } from "./folder.js";
import type { Edit, Given, NewVisit, Written } from "./messages.js";
import { Refused } from "./refused.js";
import { mapIn } from "./visit-list.js";

/** Of the history, what a later visit may start from. */
const LASTING = ["family", "past", "medicines", "allergies", "hair_care"] as const;

/** Writes the file of a new visit and returns its name; an existing file is never written over. */
export function beginVisit(desk: Desk, asked: NewVisit): string {
  const before = asked.follows === undefined ? undefined : visitPath(desk.folder, asked.follows);
  const folder = before ? dirname(before) : join(desk.folder, safeName(asked.patientId));
  const path = freeName(folder, safeName(asked.date || desk.today()));
  if (!liesInside(desk.folder, path)) throw new Refused(400, "That folder cannot be used.");
  const edits: Edit[] = [
    { do: "set", path: ["format"], value: 1 },
    {
      do: "set",
      path: ["visit"],
      value: { id: asked.id, date: asked.date, status: "draft", seen_by: asked.seenBy },
    },
    ...(before ? fromBefore(before) : fromForm(asked)),
  ];
  writeWhole(path, editText("", edits, desk.schema));
  return nameOf(desk.folder, path);
}

function freeName(folder: string, day: string): string {
  for (let n = 1; n < 100; n++) {
    const path = join(folder, n === 1 ? `${day}.yaml` : `${day}-${n}.yaml`);
    if (!existsSync(path)) return path;
  }
  throw new Refused(409, "There are too many visits of this day.");
}

function fromForm({ patientId, title, given, family, born, sex }: NewVisit): Edit[] {
  const name = { title, given, family };
  return [{ do: "set", path: ["patient"], value: { id: patientId, name, born, sex } }];
}

function fromBefore(path: string): Edit[] {
  const text = isOrdinaryFile(path) ? readText(path).value : undefined;
  const written = text === undefined ? null : writtenIn(text);
  if (!written) throw new Refused(422, "The earlier visit cannot be read.");
  const history = mapIn(written, "history");
  const lasting = LASTING.flatMap((key): Edit[] => taken(["history", key], history?.[key]));
  const sites = Array.isArray(written.sites) ? (written.sites as readonly Written[]) : [];
  const places = sites.map((site): Given => {
    const { site: region, at } = (site ?? {}) as { readonly [key: string]: Written };
    return { site: given(region), at: given(at) };
  });
  return [
    ...taken(["patient"], written.patient),
    ...taken(["send_to"], written.send_to),
    ...lasting,
    ...taken(["scope"], written.scope),
    ...(places.length > 0 ? [{ do: "set" as const, path: ["sites"], value: places }] : []),
  ];
}

const taken = (path: string[], value: Written | undefined): Edit[] => {
  const same = given(value);
  return same === undefined ? [] : [{ do: "set", path, value: same }];
};

/** The same value without what was left empty. */
function given(value: Written | undefined): Given | undefined {
  if (value === undefined || value === null) return undefined;
  if (typeof value === "string") return value;
  if (Array.isArray(value)) return value.flatMap((entry: Written) => given(entry) ?? []);
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, given(inner)]));
}

/** A first sheet for a new visit: the few facts that name it, and for a follow-up what stays the same from visit to visit. */
import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import type { Problem } from "../base/problem.js";
import { isOrdinaryFile } from "../clinic-folder/find.js";
import { identityProblem } from "../clinic-folder/identity-problems.js";
import { People } from "../clinic-folder/people.js";
import { scanText } from "../clinic-folder/scan.js";
import { liesInside, safeName, writeWhole } from "../files/write.js";
import { parseVisit, readText } from "../visit/read.js";
import type { Desk } from "./desk.js";
import { editText, writtenIn } from "./edit-yaml.js";
import { nameOf, visitPath } from "./folder.js";
import { givenOf } from "./given.js";
import { HttpError } from "./http-error.js";
import type { NewVisit } from "./list-messages.js";
import type { Edit, Given, Written } from "./messages.js";
import { mapIn } from "./read-listed.js";

/** Of the history, what a later visit may start from. */
const LASTING = ["family", "past", "medicines", "allergies", "hair_care"] as const;

/** What names a visit; a mistake here would make a folder of a wrong name, or a visit that nobody finds again. */
const NAMING =
  /^(?:visit\.(?:id|date|seen_by)|patient\.(?:id|born|sex)|patient\.name\.(?:title|given|family))$/u;

/**
 * Writes the file of a new visit and returns its name; an existing file is never written over. Throws Refused with the problems
 * when a number, a name or a day cannot stand, or when another visit of the folder speaks of the same number or person.
 */
export function beginVisit(desk: Desk, asked: NewVisit): string {
  const before = asked.follows === undefined ? undefined : visitPath(desk.folder, asked.follows);
  const edits: Edit[] = [
    { do: "set", path: ["format"], value: 1 },
    {
      do: "set",
      path: ["visit"],
      value: { id: asked.id, date: asked.date, status: "draft", seen_by: asked.seenBy },
    },
    ...(before ? fromBefore(before) : fromForm(asked)),
  ];
  let text = editText("", edits, desk.schema);
  const wrong = parseVisit(text, "", desk.knowledge, { today: desk.today() }).problems.filter(
    ({ severity, path }) => severity === "error" && (path === undefined || NAMING.test(path)),
  );
  if (wrong.length > 0) throw new HttpError(422, "The visit cannot begin like this.", wrong);
  const doubts = doubtsOf(text, desk);
  const reason = asked.reason.trim();
  const never = doubts.some(({ id }) => NEVER_SHARED.has(id));
  if (never || (doubts.length > 0 && reason === ""))
    throw new HttpError(422, "Another visit speaks of the same number or person.", doubts, !never);
  const accept = doubts.map(({ id }) => ({ id, reason }));
  if (accept.length > 0) text = editText(text, [{ do: "set", path: ["accept"], value: accept }], desk.schema);
  const folder = before ? dirname(before) : join(desk.folder, safeName(asked.patientId));
  const path = freeName(folder, safeName(asked.date));
  if (!liesInside(desk.folder, path)) throw new HttpError(400, "That folder cannot be used.");
  writeWhole(path, text);
  return nameOf(desk.folder, path);
}

/** No reason makes one number right for two visits. */
export const NEVER_SHARED: ReadonlySet<string> = new Set(["visit-of-two-patients", "visit-twice"]);

/** What is doubtful about whose visit this is, among all visits of the folder. */
function doubtsOf(text: string, desk: Desk): Problem[] {
  const { visits, files } = desk.folderLook.now();
  const own = scanText(join(desk.folder, "the new visit"), text);
  const people = new People([...files.map((file) => visits.scan(file)), own]);
  const known = people.known(own.file);
  return known ? people.doubts(own.file).map((doubt) => identityProblem(doubt, known)) : [];
}

function freeName(folder: string, day: string): string {
  for (let n = 1; n < 100; n++) {
    const path = join(folder, n === 1 ? `${day}.yaml` : `${day}-${n}.yaml`);
    if (!existsSync(path)) return path;
  }
  throw new HttpError(409, "There are too many visits of this day.");
}

function fromForm({ patientId, title, given, family, born, sex }: NewVisit): Edit[] {
  const name = { title, given, family };
  return [{ do: "set", path: ["patient"], value: { id: patientId, name, born, sex } }];
}

function fromBefore(path: string): Edit[] {
  const text = isOrdinaryFile(path) ? readText(path).value : undefined;
  const written = text === undefined ? null : writtenIn(text);
  if (!written) throw new HttpError(422, "The earlier visit cannot be read.");
  const history = mapIn(written, "history");
  const lasting = LASTING.flatMap((key): Edit[] => taken(["history", key], history?.[key]));
  const sites = Array.isArray(written.sites) ? (written.sites as readonly Written[]) : [];
  const places = sites.map((site): Given => {
    const { site: region, at } = (site ?? {}) as { readonly [key: string]: Written };
    return { site: givenOf(region), at: givenOf(at) };
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
  const same = givenOf(value);
  return same === undefined ? [] : [{ do: "set", path, value: same }];
};

/** Documents of a visit: made and kept beside it, listed, and given to the browser. */
import { randomBytes } from "node:crypto";
import { readFileSync } from "node:fs";
import { basename } from "node:path";
import { hasError, type Problem } from "../base/problem.js";
import { sha256 } from "../base/sha256.js";
import { leaving } from "../batch/leaving.js";
import { makeDocuments } from "../batch/make.js";
import { liesInside } from "../files/write.js";
import { recordMade } from "../register/record.js";
import type { Desk } from "./desk.js";
import { writtenIn } from "./edit-yaml.js";
import { HttpError } from "./http-error.js";
import { keepMade, lettersOf, type MadeEntry, madeOf, type Owner, takenNames } from "./made.js";
import type { MadeFile, Written } from "./messages.js";
import { mapIn, wordIn } from "./read-listed.js";
import { weighText } from "./weighed.js";

const DOCUMENTS = ["referral-letter", "handout"] as const;

/** Whose visit a text is; undefined while it does not say. */
export function ownerIn(written: { readonly [key: string]: Written } | null): Owner | undefined {
  const patient = mapIn(written ?? undefined, "patient");
  const name = mapIn(patient, "name");
  const visit = wordIn(mapIn(written ?? undefined, "visit"), "id");
  const id = wordIn(patient, "id");
  if (visit === "" || id === "") return undefined;
  const given = wordIn(name, "given");
  return { visit, patient: { id, given, family: wordIn(name, "family"), born: wordIn(patient, "born") } };
}

/** Links to documents: each a long random name, told to the page that asked with the token. */
export class Documents {
  private readonly links = new Map<string, { readonly file: string; readonly sha256: string }>();
  private readonly named = new Map<string, string>();

  constructor(private readonly desk: Desk) {}

  of(path: string, text: string): MadeFile[] {
    return madeOf(path, text, ownerIn(writtenIn(text))).map(
      ({ name, kind, reader, current, file, sha256 }) => ({
        name,
        kind,
        reader,
        current,
        link: `/document/${this.ticket(file, sha256)}/${encodeURIComponent(name)}`,
      }),
    );
  }

  /** The bytes behind a link, as long as they are those that the link was given for. */
  read(ticket: string): Uint8Array {
    const found = this.links.get(ticket);
    if (!found || !liesInside(this.desk.folder, found.file)) throw new HttpError(404, "No such document.");
    const bytes = readFileSync(found.file);
    if (sha256(bytes) !== found.sha256)
      throw new HttpError(409, "The document was changed since this link was given. Go back to the visit.");
    return bytes;
  }

  private ticket(file: string, hash: string): string {
    const key = `${hash} ${file}`;
    const known = this.named.get(key);
    if (known !== undefined) return known;
    const ticket = randomBytes(24).toString("base64url");
    this.links.set(ticket, { file, sha256: hash });
    this.named.set(key, ticket);
    return ticket;
  }
}

/** Makes letter and handout of a visit as it stands; throws Refused with the problems when nothing can be made. */
export async function makeLetters(desk: Desk, path: string, text: string): Promise<void> {
  const { weighed, problems } = weighText(text, path, desk);
  const { clinic } = desk.clinicOf(path);
  const owner = ownerIn(writtenIn(text));
  if (!weighed || !clinic || !owner || hasError(problems)) throw cannotBeMade(problems);
  const result = await makeDocuments(weighed.examined, {
    knowledge: desk.knowledge,
    clinic,
    documents: DOCUMENTS,
    format: "pdf",
    ...(weighed.change ? { overrides: { change: weighed.change } } : {}),
    ...(weighed.editions ? { editions: weighed.editions } : {}),
  });
  if (result.made.length === 0 || hasError(result.problems)) throw cannotBeMade(result.problems);
  if (!liesInside(desk.folder, lettersOf(path)))
    throw new HttpError(409, "The letters folder is a symbolic link.");
  const names = result.made.map(({ name }) => name);
  const [taken] = takenNames(path, owner, names);
  if (taken !== undefined)
    throw new HttpError(409, `${taken} is another visit's document. Give this visit a number of its own.`);
  const made_at = new Date().toISOString();
  keepMade(
    path,
    result.made.map(({ name, kind, recipient, bytes, sha256: hash }) => ({
      bytes,
      entry: {
        name,
        kind,
        reader: recipient?.name ?? "",
        visit_file: basename(path),
        ...owner,
        text_sha256: sha256(text),
        sha256: hash,
        made_at,
      } satisfies MadeEntry,
    })),
  );
  const clinicFolder = desk.registers.begunFor(path);
  const made = leaving(weighed.examined.visit, result.made, () => Buffer.from(text, "utf8"));
  if (clinicFolder !== undefined && made) recordMade(clinicFolder, [made], { how: "desk", again: true });
}

const cannotBeMade = (problems: readonly Problem[]) =>
  new HttpError(422, "The documents cannot be made while there are errors.", problems);

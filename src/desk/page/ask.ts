/** Asks the desk's server; every answer is one of the four kinds below and nothing is kept by the browser. */

import type {
  ListAnswer,
  ListAsked,
  NewVisit,
  TableAsked,
  TableTried,
  VisitAside,
  WaitingAnswer,
} from "../list-messages.js";
import type {
  ClinicState,
  ClinicTried,
  Conflict,
  DeskWords,
  Edit,
  LeftDocument,
  OnDisk,
  Refusal,
  Shown,
  SigningAsked,
  VisitState,
} from "../messages.js";
import { tokenNow } from "./token.js";

export type Answer<T> =
  | { readonly kind: "done"; readonly value: T }
  | { readonly kind: "conflict" }
  | { readonly kind: "refused"; readonly refusal: Refusal; readonly status: number }
  /** The server does not answer. */
  | { readonly kind: "away" };

/** One request to the desk, with this run's token. */
export const send = (path: string, body?: object): Promise<Response> =>
  fetch(`/api/${path}`, {
    cache: "no-store",
    headers: { "x-desk-token": tokenNow(), ...(body ? { "content-type": "application/json" } : {}) },
    ...(body ? { method: "POST", body: JSON.stringify(body) } : {}),
  });

async function ask<T>(path: string, body?: object): Promise<Answer<T>> {
  try {
    const response = await send(path, body);
    const value: unknown = await response.json();
    if (response.ok) return { kind: "done", value: value as T };
    if (isConflict(value)) return { kind: "conflict" };
    return { kind: "refused", refusal: value as Refusal, status: response.status };
  } catch {
    return { kind: "away" };
  }
}

const isConflict = (value: unknown): value is Conflict =>
  typeof value === "object" && value !== null && "conflict" in value;

export const askWords = () => ask<DeskWords>("words");
export const askList = (wanted: ListAsked) => ask<ListAnswer>("list", wanted);
/** 0 asks for the first lines to act on. */
export const askWaiting = (most: number) => ask<WaitingAnswer>("waiting", { most });
export const askNew = (visit: NewVisit) => ask<{ file: string }>("new", visit);
export const askPeek = (file: string) => ask<OnDisk>("peek", { file });
export const askSigning = (file: string, base: string) => ask<SigningAsked>("signing", { file, base });
export const askLeft = (file: string) =>
  ask<{ readonly documents: readonly LeftDocument[] }>("left", { file });
export const askMarkLeft = (marked: object) =>
  ask<{ readonly documents: readonly LeftDocument[] }>("mark-left", marked);
/** The file's name now. */
export const askRename = (file: string, base: string, to: string) =>
  ask<{ readonly file: string }>("rename", { file, base, to });
export const askPutAside = (file: string, base: string) => ask<object>("put-aside", { file, base });
export const askAside = () => ask<{ readonly visits: readonly VisitAside[] }>("aside");
export const askTakeBack = (lies: string) => ask<{ readonly file: string }>("take-back", { lies });
export const askTableTry = (table: TableAsked) => ask<TableTried>("table-try", table);
export const askTableTake = (table: TableAsked) =>
  ask<{ readonly files: readonly string[] }>("table-take", table);
export const askClinic = () => ask<ClinicState>("clinic");
export const askClinicTry = (edits: readonly Edit[]) => ask<ClinicTried>("clinic-try", { edits });
export const askClinicSave = (base: string, edits: readonly Edit[]) =>
  ask<ClinicState>("clinic-save", { base, edits });
export const askClinicLogo = (name: string, bytes: string) =>
  ask<{ readonly logo: string }>("clinic-logo", { name, bytes });
export const askState = (
  route: "form" | "open" | "edit" | "settle" | "undo" | "redo" | "sign" | "reopen" | "make" | "restore",
  body: object,
) => ask<VisitState>(route, body);

/** Why there is no answer, in words; empty where there is one. */
export const whyNot = (answer: Answer<unknown>): string =>
  answer.kind === "done"
    ? ""
    : answer.kind === "refused"
      ? [answer.refusal.refused, ...(answer.refusal.problems ?? []).map(({ message }) => message)].join(" ")
      : answer.kind === "conflict"
        ? "The file was changed by another program. Look again."
        : "The desk does not answer.";

/** A file made by the desk, handed to the browser to keep; or why there is none. */
export async function askFile(
  route: "export" | "locked" | "queue" | "draft" | "clinic-sheet",
  body: object,
): Promise<Answer<string>> {
  try {
    const response = await send(route, body);
    if (!response.ok)
      return { kind: "refused", refusal: (await response.json()) as Refusal, status: response.status };
    const name = decodeURIComponent(response.headers.get("x-file-name") ?? "file");
    const address = URL.createObjectURL(await response.blob());
    const link = document.createElement("a");
    link.href = address;
    link.download = name;
    link.click();
    // The browser has taken the bytes by then.
    setTimeout(() => URL.revokeObjectURL(address), 60_000);
    return { kind: "done", value: name };
  } catch {
    return { kind: "away" };
  }
}

/** The bytes of a pane's document as it would be printed now, or why there are none. */
export const askSheet = (file: string, shown: Shown): Promise<Answer<Uint8Array>> =>
  askBytes("sheet", { file, ...shown });

/** The clinic's letter, or its sheet to try an envelope with, as changes that are not written yet would make it. */
export const askClinicSheet = (
  edits: readonly Edit[],
  show: "letter" | "window",
): Promise<Answer<Uint8Array>> => askBytes("clinic-sheet", { edits, show });

async function askBytes(route: string, body: object): Promise<Answer<Uint8Array>> {
  try {
    const response = await send(route, body);
    if (response.ok) return { kind: "done", value: new Uint8Array(await response.arrayBuffer()) };
    return { kind: "refused", refusal: (await response.json()) as Refusal, status: response.status };
  } catch {
    return { kind: "away" };
  }
}

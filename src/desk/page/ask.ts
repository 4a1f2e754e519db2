/** Asks the desk's server; every answer is one of the four kinds below and nothing is kept by the browser. */
import type { Conflict, DeskWords, ListedVisit, NewVisit, OnDisk, Refusal, VisitState } from "../messages.js";

export type Answer<T> =
  | { readonly kind: "done"; readonly value: T }
  | { readonly kind: "conflict" }
  | { readonly kind: "refused"; readonly refusal: Refusal; readonly status: number }
  /** The server does not answer. */
  | { readonly kind: "away" };

async function ask<T>(path: string, body?: object): Promise<Answer<T>> {
  try {
    const response = await fetch(`/api/${path}`, {
      cache: "no-store",
      ...(body
        ? { method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify(body) }
        : {}),
    });
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
export const askVisits = () => ask<{ visits: readonly ListedVisit[] }>("visits");
export const askNew = (visit: NewVisit) => ask<{ file: string }>("new", visit);
export const askPeek = (file: string) => ask<OnDisk>("peek", { file });
export const askState = (
  route: "open" | "edit" | "settle" | "undo" | "redo" | "sign" | "reopen" | "make",
  body: object,
) => ask<VisitState>(route, body);

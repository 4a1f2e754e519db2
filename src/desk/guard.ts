/** Who may speak to the desk: this computer's own browser, at the desk's own address, with this run's token. */
import { randomBytes, timingSafeEqual } from "node:crypto";
import type { IncomingMessage } from "node:http";
import { HttpError } from "./http-error.js";

export interface Guard {
  readonly token: string;
  readonly port: number;
}

/** Cookies go to every port of a computer and so to other people's programs; a header of the page's own goes to this desk alone. */
export const TOKEN_HEADER = "x-desk-token";

/** 192 random bits, new for every run. */
export function freshToken(): string {
  return randomBytes(24).toString("base64url");
}

/** Refuses a foreign Host (a name rebound to this computer), a foreign Origin or site, and a wrong method. */
export function admit(request: IncomingMessage, guard: Guard): void {
  const { headers, method } = request;
  const hosts = [`127.0.0.1:${guard.port}`, `localhost:${guard.port}`];
  const host = headers.host ?? "";
  if (!hosts.includes(host)) throw new HttpError(421, "This is not the desk's address.");
  if (method !== "GET" && method !== "POST") throw new HttpError(405, "Only GET and POST are served.");
  const { origin } = headers;
  const own = `http://${host}`;
  if (origin === undefined ? method === "POST" : origin !== own)
    throw new HttpError(403, "The request comes from another page.");
  const site = headers["sec-fetch-site"];
  if (site !== undefined && site !== "same-origin" && !(site === "none" && method === "GET"))
    throw new HttpError(403, "The request comes from another page.");
  if (method === "POST" && !/^application\/json\b/u.test(headers["content-type"] ?? ""))
    throw new HttpError(415, "Only JSON is read.");
}

/** Refuses whoever does not hold this run's token: everything that speaks of a patient is asked for with it. */
export function needToken(request: IncomingMessage, guard: Guard): void {
  const given = request.headers[TOKEN_HEADER];
  if (!sameToken(typeof given === "string" ? given : "", guard.token))
    throw new HttpError(403, "Open the address that whorl desk printed when it started.");
}

function sameToken(given: string, token: string): boolean {
  const [a, b] = [Buffer.from(given), Buffer.from(token)];
  return a.length === b.length && timingSafeEqual(a, b);
}

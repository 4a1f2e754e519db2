/** Who may speak to the desk: this computer's own browser, at the desk's own address, with this run's token. */
import { randomBytes, timingSafeEqual } from "node:crypto";
import type { IncomingMessage } from "node:http";
import { Refused } from "./refused.js";

export interface Guard {
  readonly token: string;
  readonly port: number;
}

/** 192 random bits, new for every run. */
export function freshToken(): string {
  return randomBytes(24).toString("base64url");
}

/** Cookies do not keep to ports, so that the name tells two desks on one computer apart. */
export function cookieName({ port }: Guard): string {
  return `whorl_desk_${port}`;
}

export function cookieFor(guard: Guard): string {
  return `${cookieName(guard)}=${guard.token}; Path=/; HttpOnly; SameSite=Strict`;
}

/**
 * Refuses a foreign Host (a name rebound to this computer), a foreign Origin or site, a wrong method, and anything without
 * the token. `given` is the token of an opening link.
 */
export function admit(request: IncomingMessage, guard: Guard, given?: string): void {
  const { headers, method } = request;
  const hosts = [`127.0.0.1:${guard.port}`, `localhost:${guard.port}`];
  const host = headers.host ?? "";
  if (!hosts.includes(host)) throw new Refused(421, "This is not the desk's address.");
  if (method !== "GET" && method !== "POST") throw new Refused(405, "Only GET and POST are served.");
  const { origin } = headers;
  const own = `http://${host}`;
  if (origin === undefined ? method === "POST" : origin !== own)
    throw new Refused(403, "The request comes from another page.");
  const site = headers["sec-fetch-site"];
  if (site !== undefined && site !== "same-origin" && !(site === "none" && method === "GET"))
    throw new Refused(403, "The request comes from another page.");
  if (!sameToken(given ?? cookieOf(headers.cookie, cookieName(guard)), guard.token))
    throw new Refused(403, "Open the address that whorl desk printed when it started.");
  if (method === "POST" && !/^application\/json\b/u.test(headers["content-type"] ?? ""))
    throw new Refused(415, "Only JSON is read.");
}

function cookieOf(header: string | undefined, name: string): string {
  const pair = (header ?? "").split(/;\s*/u).find((part) => part.startsWith(`${name}=`));
  return pair?.slice(name.length + 1) ?? "";
}

function sameToken(given: string, token: string): boolean {
  const [a, b] = [Buffer.from(given), Buffer.from(token)];
  return a.length === b.length && timingSafeEqual(a, b);
}

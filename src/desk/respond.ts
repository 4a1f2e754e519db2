/** Answers of the desk: headers that keep the browser from storing, guessing, framing or fetching anything, and bodies in and out. */
import type { IncomingMessage, ServerResponse } from "node:http";
import { HttpError } from "./http-error.js";

const MOST_BYTES = 512 * 1024;

const PAGE_POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; font-src 'self' data:; connect-src 'self'; worker-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";
/** A PDF is no page: the browser's own viewer shows it, and its parts must not be shut out. */
const PDF_POLICY = "frame-ancestors 'none'";

export type Kind = "jpeg" | "png" | "html" | "js" | "css" | "json" | "pdf" | "bytes";

const TYPES: Readonly<Record<Kind, string>> = {
  jpeg: "image/jpeg",
  png: "image/png",
  html: "text/html; charset=utf-8",
  js: "text/javascript; charset=utf-8",
  css: "text/css; charset=utf-8",
  json: "application/json; charset=utf-8",
  pdf: "application/pdf",
  bytes: "application/octet-stream",
};

export function answer(
  response: ServerResponse,
  status: number,
  kind: Kind,
  body: string | Uint8Array,
  more: Readonly<Record<string, string>> = {},
): void {
  response.writeHead(status, {
    "content-type": TYPES[kind],
    "cache-control": "no-store",
    "content-security-policy": kind === "pdf" ? PDF_POLICY : PAGE_POLICY,
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(self), geolocation=(), microphone=()",
    "referrer-policy": "no-referrer",
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    ...more,
  });
  response.end(body);
}

export function answerJson(response: ServerResponse, status: number, value: object): void {
  answer(response, status, "json", JSON.stringify(value));
}

/** The JSON object of a request of at most `most` bytes, half a megabyte unless told. */
export async function readBody(
  request: IncomingMessage,
  most: number = MOST_BYTES,
): Promise<Readonly<Record<string, unknown>>> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of request) {
    if (!Buffer.isBuffer(chunk)) continue;
    size += chunk.length;
    if (size > most) throw new HttpError(413, "The request is too big.");
    chunks.push(chunk);
  }
  try {
    const value: unknown = JSON.parse(Buffer.concat(chunks).toString("utf8"));
    if (typeof value === "object" && value !== null && !Array.isArray(value))
      return value as Readonly<Record<string, unknown>>;
  } catch {
    // Answered below like any other body that is no object.
  }
  throw new HttpError(400, "The request is not a JSON object.");
}

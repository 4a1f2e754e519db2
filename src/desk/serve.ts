/** Serves the desk on this computer's own address and nowhere else. */
import { readFileSync } from "node:fs";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import { inPackage } from "../base/root.js";
import { MOST_LOGO_BODY } from "./clinic-setup.js";
import { type DeskOptions, openDesk } from "./desk.js";
import { deskFolder } from "./folder.js";
import { admit, freshToken, type Guard, needToken } from "./guard.js";
import { HttpError } from "./http-error.js";
import type { Conflict } from "./messages.js";
import { MOST_PHOTO_BODY } from "./photos.js";
import { answer, answerJson, readBody } from "./respond.js";
import { type Routes, routesOf } from "./routes.js";
import { Changed } from "./session.js";
import { DESK_PAGE, SHUT_PAGE } from "./shell.js";
import { MOST_TABLE_BODY } from "./table-in.js";
import { warm } from "./warm.js";

export interface ServeOptions extends DeskOptions {
  /** 0 takes any free port. */
  readonly port: number;
  /** Told of a fault of ours: kind and place, never a message that might hold what a file says. */
  readonly onFault: (fault: string) => void;
  /** True to work out beforehand what the first page and visit need. */
  readonly warm?: boolean;
}

export interface RunningDesk {
  /** The address to open; it carries this run's token where no server and no other page sees it. */
  readonly url: string;
  readonly port: number;
  close(): Promise<void>;
}

const built = (name: string): string => inPackage("dist", "desk", "page", name);
/** What the page brings along; none of it speaks of a patient. What comes after the first two only when pages or photos are shown. */
const FILES = {
  "/main.js": { kind: "js", from: built("main.js") },
  "/desk.css": { kind: "css", from: built("desk.css") },
  "/sheets.js": { kind: "js", from: built("sheets.js") },
  "/sheets-worker.js": { kind: "js", from: built("sheets-worker.js") },
  "/photo.js": { kind: "js", from: built("photo.js") },
  "/photo.css": { kind: "css", from: built("photo-style.css") },
  "/eye-worker.js": { kind: "js", from: built("eye-worker.js") },
} as const;

/** Asked by a page that nobody touches. */
const UNSTIRRING: ReadonlySet<string> = new Set(["waiting", "peek"]);
/** Posted, and nothing is written by it. */
const ONLY_LOOKING: ReadonlySet<string> = new Set([
  "list",
  "waiting",
  "peek",
  "form",
  "open",
  "settle",
  "sheet",
]);

/** Starts the desk; throws when the folder is missing, the page was not built, or the port is taken. */
export async function startDesk(options: ServeOptions): Promise<RunningDesk> {
  const desk = openDesk({ ...options, folder: deskFolder(options.folder) });
  const files = Object.fromEntries(
    Object.entries(FILES).map(([path, { from }]) => [path, readFileSync(from)]),
  );
  const routes = routesOf(desk);
  const server = createServer({ maxHeaderSize: 16_384, requestTimeout: 30_000 });
  await listen(server, options.port);
  const address = server.address();
  const port = typeof address === "object" && address !== null ? address.port : options.port;
  const guard: Guard = { token: freshToken(), port };
  server.on("request", (request, response) => {
    const name = request.url?.replace("/api/", "") ?? "";
    if (!UNSTIRRING.has(name)) desk.quiet.stir(request.url?.startsWith("/api/") === true);
    if (request.method === "POST" && !ONLY_LOOKING.has(name)) desk.folderLook.lookAgain();
    serve(request, response, guard, routes, files).catch((error: unknown) =>
      fail(error, response, request, options),
    );
  });
  // What stands in the way of it is told when somebody asks for the same.
  if (options.warm) void warm(desk).catch(() => undefined);
  return {
    url: `http://127.0.0.1:${port}/#open=${guard.token}`,
    port,
    close: () =>
      new Promise((resolve) => {
        desk.quiet.end();
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

function listen(server: Server, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    server.once("error", reject);
    server.listen(port, "127.0.0.1", () => {
      server.off("error", reject);
      resolve();
    });
  });
}

async function serve(
  request: IncomingMessage,
  response: ServerResponse,
  guard: Guard,
  routes: Routes,
  files: Readonly<Record<string, Uint8Array>>,
): Promise<void> {
  admit(request, guard);
  const path = new URL(request.url ?? "/", "http://127.0.0.1").pathname;
  const name = /^\/api\/(.*)$/u.exec(path)?.[1];
  if (request.method === "POST") {
    needToken(request, guard);
    if (name === "sheet") return answer(response, 200, "pdf", await routes.sheet(await readBody(request)));
    if (name !== undefined && Object.hasOwn(routes.files, name)) {
      const given = await routes.files[name]?.(await readBody(request));
      return answer(response, 200, "bytes", given?.bytes ?? "", {
        "x-file-name": encodeURIComponent(given?.name ?? "file"),
      });
    }
    const ofPhoto = name === undefined ? null : await photoAnswer(name, request, response, routes);
    if (ofPhoto) return;
    const route = name !== undefined && Object.hasOwn(routes.post, name) ? routes.post[name] : undefined;
    if (!route) throw new HttpError(404, "There is nothing here.");
    const most =
      name === "clinic-logo"
        ? MOST_LOGO_BODY
        : name === "table-try" || name === "table-take"
          ? MOST_TABLE_BODY
          : undefined;
    return answerJson(response, 200, await route(await readBody(request, most)));
  }
  if (path === "/") return answer(response, 200, "html", DESK_PAGE);
  if (Object.hasOwn(files, path))
    return answer(response, 200, FILES[path as keyof typeof FILES].kind, files[path] ?? "");
  // A link carries no header. Its long random name is known to whoever was told of the document, and to nobody else.
  const [, ticket, file = ""] = /^\/document\/([\w-]{32})\/(.+)$/u.exec(path) ?? [];
  if (ticket !== undefined)
    return answer(response, 200, "pdf", routes.document(ticket), {
      "content-disposition": `inline; filename="${file.replace(/[^\w.-]/gu, "-")}"`,
    });
  needToken(request, guard);
  if (name !== undefined && Object.hasOwn(routes.get, name))
    return answerJson(response, 200, (await routes.get[name]?.()) ?? {});
  throw new HttpError(404, "There is nothing here.");
}

/** True when the request was one about photos and is answered. */
async function photoAnswer(
  name: string,
  request: IncomingMessage,
  response: ServerResponse,
  { photos }: Routes,
): Promise<boolean> {
  if (name === "photo") {
    const { kind, bytes } = photos.bytes(await readBody(request));
    answer(response, 200, kind, bytes);
  } else if (name === "marks") answerJson(response, 200, photos.marks(await readBody(request)));
  else if (name === "agree") answerJson(response, 200, photos.agree(await readBody(request)));
  else if (name === "mark") answerJson(response, 200, photos.write(await readBody(request)));
  else if (name === "add-photo")
    answerJson(response, 200, photos.add(await readBody(request, MOST_PHOTO_BODY)));
  else return false;
  return true;
}

const CONFLICT: Conflict = { conflict: true };

function fail(
  error: unknown,
  response: ServerResponse,
  request: IncomingMessage,
  options: ServeOptions,
): void {
  if (response.headersSent) {
    response.destroy();
    return;
  }
  if (error instanceof Changed) answerJson(response, 409, CONFLICT);
  else if (error instanceof HttpError) refuse(error, response, request);
  else {
    options.onFault(faultOf(error));
    const code = error instanceof Error && "code" in error ? ` (${String(error.code)})` : "";
    answerJson(response, 500, { refused: `The desk itself failed${code}. Nothing was left half-written.` });
  }
}

function refuse(
  { status, message, problems, needsReason }: HttpError,
  response: ServerResponse,
  request: IncomingMessage,
): void {
  // What is left of a refused body is not waited for.
  const more: Record<string, string> = request.complete ? {} : { connection: "close" };
  if (request.url?.startsWith("/api/") === true) {
    const said = {
      refused: message,
      ...(problems.length > 0 ? { problems } : {}),
      ...(needsReason ? { needsReason } : {}),
    };
    answer(response, status, "json", JSON.stringify(said), more);
  } else answer(response, status, "html", SHUT_PAGE(message), more);
}

function faultOf(error: unknown): string {
  const lines = error instanceof Error ? (error.stack ?? "").split("\n") : [];
  const where = lines.filter((line) => /^\s+at /u.test(line)).slice(0, 5);
  return [error instanceof Error ? error.name : typeof error, ...where].join("\n");
}

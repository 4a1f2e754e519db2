/** Requests that no page of the desk would make. */
import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { type IncomingHttpHeaders, request } from "node:http";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { deskOnExamples, type TestDesk } from "./open-desk.js";

let desk: TestDesk;
let cookie: string;
const visit = "TS-40417/2026-03-12.yaml";

interface Sent {
  readonly method?: string;
  readonly path?: string;
  readonly headers?: Record<string, string>;
  readonly body?: string;
}

interface Got {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

function send({ method = "GET", path = "/", headers = {}, body }: Sent): Promise<Got> {
  return new Promise((resolve, reject) => {
    const asked = request({ host: "127.0.0.1", port: desk.port, method, path, headers }, (response) => {
      const chunks: Buffer[] = [];
      response.on("data", (chunk: Buffer) => chunks.push(chunk));
      response.on("end", () =>
        resolve({
          status: response.statusCode ?? 0,
          headers: response.headers,
          body: Buffer.concat(chunks).toString("utf8"),
        }),
      );
    });
    asked.on("error", reject);
    asked.end(body);
  });
}

const own = (): Record<string, string> => ({ cookie });
const post = (path: string, value: unknown, more: Record<string, string> = {}): Promise<Got> =>
  send({
    method: "POST",
    path: `/api/${path}`,
    headers: {
      ...own(),
      origin: `http://127.0.0.1:${desk.port}`,
      "content-type": "application/json",
      ...more,
    },
    body: typeof value === "string" ? value : JSON.stringify(value),
  });

beforeAll(async () => {
  desk = await deskOnExamples();
  const opened = await send({ path: new URL(desk.url).pathname });
  cookie = String(opened.headers["set-cookie"]?.[0] ?? "").split(";")[0] ?? "";
});
afterAll(() => desk.shut());

describe("the door of the desk", () => {
  it("opens to its link and sets a cookie that no script and no other site can use", async () => {
    const opened = await send({ path: new URL(desk.url).pathname });
    expect(opened.status).toBe(303);
    expect(opened.headers["set-cookie"]?.[0]).toMatch(/; Path=\/; HttpOnly; SameSite=Strict$/u);
    expect((await send({ headers: own() })).status).toBe(200);
  });

  it("stays shut without the token, with a wrong one, and to a link that only resembles", async () => {
    expect((await send({})).status).toBe(403);
    expect((await send({ path: "/api/visits" })).status).toBe(403);
    expect((await send({ path: "/main.js" })).status).toBe(403);
    expect((await send({ headers: { cookie: `${cookie}x` } })).status).toBe(403);
    expect((await send({ path: "/open/AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA" })).status).toBe(403);
    expect((await send({ path: "/open/" })).status).toBe(403);
  });

  it("refuses a name that was pointed at this computer", async () => {
    for (const host of [
      "evil.example",
      `evil.example:${desk.port}`,
      "127.0.0.1",
      `127.0.0.1.evil.example:${desk.port}`,
    ])
      expect((await send({ headers: { ...own(), host } })).status, host).toBe(421);
  });

  it("refuses posts of other pages, of no page, and of pages on another port", async () => {
    const body = { file: visit, pane: "letter" };
    expect((await post("open", body)).status).toBe(200);
    for (const origin of [
      "http://evil.example",
      "null",
      `http://127.0.0.1:${desk.port + 1}`,
      `https://127.0.0.1:${desk.port}`,
    ])
      expect((await post("open", body, { origin })).status, origin).toBe(403);
    const without = await send({
      method: "POST",
      path: "/api/open",
      headers: { ...own(), "content-type": "application/json" },
      body: JSON.stringify(body),
    });
    expect(without.status).toBe(403);
    expect((await post("open", body, { "sec-fetch-site": "cross-site" })).status).toBe(403);
    expect((await post("open", body, { "sec-fetch-site": "same-site" })).status).toBe(403);
    expect((await post("open", body, { "content-type": "text/plain" })).status).toBe(415);
    expect((await send({ method: "PUT", headers: own() })).status).toBe(405);
    expect((await send({ headers: { ...own(), "sec-fetch-site": "cross-site" } })).status).toBe(403);
  });

  it("reads no body beyond half a megabyte and nothing but the requests of the page", async () => {
    expect((await post("open", `{"file":"${"x".repeat(600_000)}"}`)).status).toBe(413);
    expect((await post("open", "{")).status).toBe(400);
    expect((await post("open", "[]")).status).toBe(400);
    expect((await post("open", { file: visit, pane: "letter", more: 1 })).status).toBe(400);
    expect((await post("constructor", {})).status).toBe(404);
    expect(
      (await post("edit", { file: visit, pane: "letter", base: "x", edits: [{ do: "run", path: ["a"] }] }))
        .status,
    ).toBe(400);
    expect((await send({ path: "/api/__proto__", headers: own() })).status).toBe(404);
  });

  it("lets nothing be stored, framed, guessed or fetched from elsewhere", async () => {
    for (const path of ["/", "/main.js", "/desk.css", "/api/visits", "/sheet", "/nothing"]) {
      const { headers } = await send({ path, headers: own() });
      expect(headers["cache-control"], path).toBe("no-store");
      expect(headers["x-content-type-options"], path).toBe("nosniff");
      expect(headers["referrer-policy"], path).toBe("no-referrer");
      expect(headers["content-security-policy"], path).toMatch(/^default-src 'none'/u);
      expect(headers["access-control-allow-origin"], path).toBeUndefined();
    }
    const { headers } = await send({ headers: own() });
    expect(headers["content-security-policy"]).not.toMatch(/unsafe|https?:|\*/u);
    expect((await send({ path: "/sheet", headers: own() })).headers["content-security-policy"]).not.toMatch(
      /script/u,
    );
  });
});

describe("the folder of the desk", () => {
  const names = [
    "../clinic.yaml",
    "TS-40417/../../clinic.yaml",
    "/etc/passwd",
    "/etc/hosts.yaml",
    "TS-40417/./2026-03-12.yaml",
    "TS-40417//2026-03-12.yaml",
    "..\\clinic.yaml",
    "C:\\visit.yaml",
    "TS-40417/2026-03-12.yaml\0",
    ".hidden/visit.yaml",
    "clinic.yaml",
    "TS-40417",
    "",
  ];

  it.each(names)("holds no visit called %j", async (file) => {
    for (const route of ["open", "peek", "settle", "make"]) {
      const got = await post(route, route === "peek" ? { file } : { file, pane: "letter" });
      expect(got.status, route).toBe(400);
      expect(got.body).not.toContain("root:");
    }
  });

  it("is not left through a symbolic link, to a file or to a folder", async () => {
    const outside = join(desk.folder, "..", "outside");
    mkdirSync(outside);
    writeFileSync(join(outside, "visit.yaml"), "visit: { id: SECRET }\n");
    symlinkSync(join(outside, "visit.yaml"), join(desk.folder, "link.yaml"));
    symlinkSync(outside, join(desk.folder, "linked"));
    for (const file of ["link.yaml", "linked/visit.yaml"])
      expect((await post("open", { file, pane: "letter" })).status, file).toBe(400);
    const list = await send({ path: "/api/visits", headers: own() });
    expect(list.body).not.toContain("SECRET");
    expect(list.body).not.toContain("link");
    const begun = await post("new", {
      id: "A",
      date: "../../x",
      seenBy: "anneli-thorsby",
      patientId: "../linked",
      title: "",
      given: "",
      family: "X",
      born: "1990-01-01",
      sex: "",
    });
    expect(begun.status === 400 || !begun.body.includes("..")).toBe(true);
  });

  it("gives out no file but the PDFs made of a visit", async () => {
    const of = encodeURIComponent(visit);
    for (const name of [
      "2026-03-12.yaml",
      "..%2F2026-03-12.yaml",
      "..%2F..%2Fclinic.yaml",
      "%E0%A4%A",
      "nothing.pdf",
    ])
      expect(
        (await send({ path: `/letter/${name}?of=${of}`, headers: own() })).status,
        name,
      ).toBeGreaterThanOrEqual(400);
    expect(desk.faults).toEqual([]);
  });
});

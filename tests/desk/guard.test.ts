/** Requests that no page of the desk would make. */
import { mkdirSync, symlinkSync, writeFileSync } from "node:fs";
import { type IncomingHttpHeaders, request } from "node:http";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { deskOnExamples, type TestDesk } from "./open-desk.js";

let desk: TestDesk;
let token: string;
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

const own = (): Record<string, string> => ({ "x-desk-token": token });
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
  token = /^#open=([\w-]{32})$/u.exec(new URL(desk.url).hash)?.[1] ?? "";
});
afterAll(() => desk.shut());

describe("the door of the desk", () => {
  it("sets no cookie anywhere and gives the token to nobody who has it not", async () => {
    expect(token).toHaveLength(32);
    for (const path of ["/", "/main.js", "/desk.css", "/sheets.js", "/api/words", `/open/${token}`]) {
      for (const headers of [{}, own()]) {
        const got = await send({ path, headers });
        expect(got.headers["set-cookie"], path).toBeUndefined();
        expect(got.body, path).not.toContain(token);
      }
    }
  });

  it("serves the bare page to anyone on this computer, and nothing that speaks of a patient", async () => {
    expect((await send({})).status).toBe(200);
    expect((await send({ path: "/main.js" })).status).toBe(200);
    const others: Record<string, string>[] = [
      {},
      { "x-desk-token": `${token}x` },
      { "x-desk-token": "A".repeat(32) },
      { cookie: `whorl_desk_${desk.port}=${token}; x-desk-token=${token}` },
      { authorization: `Bearer ${token}` },
    ];
    for (const headers of others) {
      for (const path of ["/api/clinic", "/api/words", "/nothing"])
        expect((await send({ path, headers })).status, path).toBe(403);
      expect((await send({ path: `/api/words?x-desk-token=${token}`, headers })).status).toBe(403);
    }
    for (const route of ["list", "waiting", "open", "peek", "sheet", "sign", "new"]) {
      const got = await post(route, { file: visit, pane: "letter" }, { "x-desk-token": "" });
      expect(got.status, route).toBe(403);
    }
    expect((await send({ path: "/api/words", headers: own() })).status).toBe(200);
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
    for (const path of ["/", "/main.js", "/desk.css", "/api/words", "/nothing"]) {
      const { headers } = await send({ path, headers: own() });
      expect(headers["cache-control"], path).toBe("no-store");
      expect(headers["x-content-type-options"], path).toBe("nosniff");
      expect(headers["referrer-policy"], path).toBe("no-referrer");
      expect(headers["content-security-policy"], path).toMatch(/^default-src 'none'/u);
      expect(headers["access-control-allow-origin"], path).toBeUndefined();
    }
    const { headers } = await send({ headers: own() });
    expect(headers["content-security-policy"]).not.toMatch(/unsafe|https?:|\*/u);
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
    for (const route of ["open", "peek", "settle", "make", "sheet"]) {
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
    const list = await post("list", { find: "", most: 100, now: true });
    expect(list.body).not.toContain("SECRET");
    expect(list.body).not.toContain("link");
    const begun = await post("new", {
      id: "A",
      date: "../../x",
      seenBy: "anneli-thorsby",
      reason: "",
      patientId: "../linked",
      title: "",
      given: "",
      family: "X",
      born: "1990-01-01",
      sex: "",
    });
    expect(begun.status).toBe(422);
  });

  it("gives out no file but the documents it told of, each by a long random name", async () => {
    for (const path of [
      `/document/${"A".repeat(32)}/letter.pdf`,
      `/document/${token}/letter.pdf`,
      "/document/..%2F..%2Fclinic.yaml/x.pdf",
      "/document//x.pdf",
      "/letter/2026-03-12.yaml",
    ])
      expect((await send({ path, headers: own() })).status, path).toBeGreaterThanOrEqual(400);
    expect(desk.faults).toEqual([]);
  });
});

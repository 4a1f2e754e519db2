/** Passwords and attached visits through the real command. */
import { spawn, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { getDocument } from "../page/pdfjs.js";
import { LONG } from "../runs.js";
import { bin, patients, whorl } from "./run-whorl.js";

const visit = join(patients, "TS-40417", "2026-03-12.yaml");
const PASSWORD = "net loft öre 17";
const REFERRAL = "TS-2026-0141-referral-letter.pdf";
const HANDOUT = "TS-2026-0141-handout.pdf";

let folder = "";
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "whorl-protect-"));
});
afterEach(() => rm(folder, { recursive: true, force: true }));

function passwordFile(text: string | Uint8Array): string {
  const file = join(folder, "password");
  writeFileSync(file, text);
  return file;
}

const out = () => join(folder, "out");
const pdf = (name: string) => readFileSync(join(out(), name));
const make = (...options: string[]) => whorl(["letter", visit, "--out", out(), ...options]);

function madeFiles(): string[] {
  return readdirSync(folder).includes("out") ? readdirSync(out()).sort() : [];
}

async function opened(bytes: Uint8Array, password?: string) {
  const task = getDocument({ data: new Uint8Array(bytes), verbosity: 0, ...(password ? { password } : {}) });
  try {
    const document = await task.promise;
    const { items } = await (await document.getPage(1)).getTextContent();
    const attached: Record<string, { content: Uint8Array }> | null = await document.getAttachments();
    return { text: items.map((item) => ("str" in item ? item.str : "")).join(" "), attached };
  } finally {
    await task.destroy();
  }
}

describe("--password-file", () => {
  it.each(LONG ? ["", "\n", "\r\n"] : ["", "\r\n"])(
    "locks every PDF; a line end %j after the password is not part of it",
    async (end) => {
      const kinds = end === "" ? [] : ["--document", "handout", "--no-proof"];
      const ran = make("--password-file", passwordFile(PASSWORD + end), "--json", ...kinds);
      expect(ran.code, ran.err).toBe(0);
      expect(madeFiles()).toEqual(end === "" ? [HANDOUT, REFERRAL] : [HANDOUT]);
      for (const name of madeFiles()) {
        await expect(opened(pdf(name))).rejects.toMatchObject({ name: "PasswordException", code: 1 });
        await expect(opened(pdf(name), `${PASSWORD}x`)).rejects.toMatchObject({ code: 2 });
        expect((await opened(pdf(name), PASSWORD)).text).toContain("Solheim");
        expect(ran.out).toContain(createHash("sha256").update(pdf(name)).digest("hex"));
      }
      expect(ran.out + ran.err).not.toContain(PASSWORD);
    },
  );

  it.each([
    ["that is empty", "", "The password is empty"],
    ["of an empty line", "\n", "The password is empty"],
    ["of seven characters", "sevenly\n", "7 characters; at least 8"],
    ["of two lines", "ropewalk-40417\nropewalk-40418\n", "more than one line"],
    ["in UTF-16", Uint8Array.from(Buffer.from("\ufeffropewalk-40417", "utf16le")), "not text in UTF-8"],
    ["of a whole page", "r".repeat(5000), "too large"],
    ["that readers would cut short", "r".repeat(128), "too long"],
  ])("refuses a file %s as wrong use, and makes nothing", (_, text, says) => {
    const ran = make("--password-file", passwordFile(text));
    expect(ran.code).toBe(2);
    expect(ran.err).toContain(says);
    expect(ran.err.trim().split("\n")).toHaveLength(1);
    expect(ran.err).not.toMatch(/sevenly|ropewalk|rrrrr/u);
    expect(madeFiles()).toEqual([]);
  });

  it("refuses a file that is not there, and a folder", () => {
    for (const named of [join(folder, "none"), folder]) {
      const ran = make("--password-file", named);
      expect(ran.code).toBe(2);
      expect(ran.err).toContain("no password file");
    }
  });

  it.each(["text", "html"])("is for PDF only, not for %s", (format) => {
    for (const options of [["--password-file", passwordFile(PASSWORD)], ["--attach-visit"]]) {
      const ran = make("--format", format, ...options);
      expect(ran.code).toBe(2);
      expect(ran.err).toContain("for PDF only");
      expect(madeFiles()).toEqual([]);
    }
  });
});

describe("a password on the command line", () => {
  it.each([["--password=hunter-of-nets"], ["--password", "hunter-of-nets"], ["--password"]])(
    "is refused without being repeated: %s",
    (...given) => {
      const ran = make(...given);
      expect(ran.code).toBe(2);
      expect(ran.err).toContain("--password-file or --ask-password");
      expect(ran.out + ran.err).not.toContain("hunter");
      expect(madeFiles()).toEqual([]);
    },
  );

  it("is not offered by the help", () => {
    expect(make("--help").out).not.toMatch(/--password[ =]/u);
  });
});

/** Types answers into a terminal, each when the question stands there; `seen` is all that the terminal showed. */
function inTerminal(options: readonly string[], answers: readonly (readonly [RegExp, string])[]) {
  const command = [process.execPath, bin, "letter", visit, "--out", out(), ...options]
    .map((word) => `'${word}'`)
    .join(" ");
  return new Promise<{ code: number | null; seen: string; processes: string }>((resolve, reject) => {
    const child = spawn("script", ["-qec", command, "/dev/null"], { env: { ...process.env, NO_COLOR: "1" } });
    const left = [...answers];
    let seen = "";
    let since = 0;
    let processes = "";
    child.stdout.setEncoding("utf8").on("data", (chunk: string) => {
      seen += chunk;
      const next = left[0];
      if (!next?.[0].test(seen.slice(since))) return;
      left.shift();
      since = seen.length;
      child.stdin.write(`${next[1]}\r`);
      processes += commandLines();
    });
    child.on("error", reject);
    child.on("close", (code) => resolve({ code, seen, processes }));
  });
}

/** The command lines of all processes, as anyone on the computer can list them. */
function commandLines(): string {
  const listed = spawnSync("ps", ["-A", "-ww", "-o", "args="], { encoding: "utf8" });
  if (listed.error) throw listed.error;
  return listed.stdout;
}

describe("--ask-password", () => {
  it("asks twice, shows nothing of it, and locks", async () => {
    const ran = await inTerminal(
      ["--ask-password", "--document", "handout"],
      [
        [/Password for the PDFs/u, PASSWORD],
        [/The same password again/u, PASSWORD],
      ],
    );
    expect(ran.code, ran.seen).toBe(0);
    expect(ran.seen).not.toContain(PASSWORD);
    expect(ran.processes.includes("--ask-password")).toBe(true);
    expect(ran.processes.includes(PASSWORD)).toBe(false);
    expect(madeFiles()).toEqual([HANDOUT]);
    await expect(opened(pdf(HANDOUT))).rejects.toMatchObject({ name: "PasswordException" });
    expect((await opened(pdf(HANDOUT), PASSWORD)).text).toContain("Solheim");
  });

  it("refuses two that differ, and makes nothing", async () => {
    const ran = await inTerminal(
      ["--ask-password"],
      [
        [/Password for the PDFs/u, PASSWORD],
        [/The same password again/u, `${PASSWORD}!`],
      ],
    );
    expect(ran.code).toBe(2);
    expect(ran.seen).toContain("The two passwords differ");
    expect(madeFiles()).toEqual([]);
  });

  it("says at once that a password is too short, and ends without one on Ctrl-C", async () => {
    const ran = await inTerminal(
      ["--ask-password"],
      [
        [/Password for the PDFs/u, "sevenly"],
        [/at least 8/u, "\u0003"],
      ],
    );
    expect(ran.code).toBe(2);
    expect(ran.seen).toContain("7 characters");
    expect(ran.seen).toContain("No password was given");
    expect(ran.seen).not.toContain("sevenly");
    expect(madeFiles()).toEqual([]);
  });

  it("needs a terminal", () => {
    const ran = make("--ask-password");
    expect(ran.code).toBe(2);
    expect(ran.err).toContain("needs a terminal");
    expect(madeFiles()).toEqual([]);
  });

  it("does not go with --password-file", () => {
    const ran = make("--ask-password", "--password-file", passwordFile(PASSWORD));
    expect(ran.code).toBe(2);
    expect(ran.err).toContain("use one of them");
  });
});

describe("--attach-visit", () => {
  it("gives the colleague's letter the visit file byte for byte, and the handout and the reasoning sheet nothing", async () => {
    const ran = make(
      "--attach-visit",
      "--no-proof",
      "--document",
      "referral-letter",
      "handout",
      "reasoning-sheet",
    );
    expect(ran.code, ran.err).toBe(0);
    const { attached } = await opened(pdf(REFERRAL));
    expect(Object.keys(attached ?? {})).toEqual(["TS-2026-0141.yaml"]);
    expect(Buffer.from(attached?.["TS-2026-0141.yaml"]?.content ?? []).equals(readFileSync(visit))).toBe(
      true,
    );
    for (const name of [HANDOUT, "TS-2026-0141-reasoning-sheet.pdf"])
      expect((await opened(pdf(name))).attached, name).toBeNull();
  });

  it("gives the same bytes in two runs", () => {
    make("--attach-visit", "--document", "referral-letter", "--no-proof");
    const first = pdf(REFERRAL);
    make("--attach-visit", "--document", "referral-letter", "--no-proof");
    expect(pdf(REFERRAL).equals(first)).toBe(true);
  });

  it("lies behind the password when both are asked for", async () => {
    const ran = make("--attach-visit", "--no-proof", "--password-file", passwordFile(PASSWORD));
    expect(ran.code, ran.err).toBe(0);
    await expect(opened(pdf(REFERRAL))).rejects.toMatchObject({ name: "PasswordException" });
    const { attached } = await opened(pdf(REFERRAL), PASSWORD);
    expect(Buffer.from(attached?.["TS-2026-0141.yaml"]?.content ?? []).equals(readFileSync(visit))).toBe(
      true,
    );
    expect((await opened(pdf(HANDOUT), PASSWORD)).attached).toBeNull();
  });

  it.each(["handout", "reasoning-sheet"])("is refused when only a %s is made", (document) => {
    const ran = make("--attach-visit", "--document", document);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain("a handout never carries the visit file");
    expect(madeFiles()).toEqual([]);
  });

  it("says in the help whom it is for", () => {
    expect(make("--help").out.replace(/\s+/gu, " ")).toContain("never to the patient's handout");
  });
});

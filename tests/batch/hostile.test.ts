import { existsSync, mkdirSync, readFileSync, symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { Jobs, type MadeVisit, type VisitToRead } from "../../src/batch/job.js";
import { csv } from "../../src/batch/manifest.js";
import { runPool } from "../../src/batch/pool.js";
import { readPdf, textOf } from "../../src/batch/proof/read-pdf.js";
import { plain } from "../../src/cli/plain.js";
import { some } from "../runs.js";
import { filesBelow, manifestOf, scratch, whorl } from "./command.js";
import { generateVisits } from "./generate-visits.js";

const settings = {
  documents: ["referral-letter", "handout"],
  drafts: true,
  proof: true,
  today: "2027-06-01",
  people: [],
};
const jobs = new Jobs(settings);

/** Makes one example visit with its text changed. */
async function make(
  change: (text: string) => string,
  spoil?: (folder: string) => void,
  overrides: VisitToRead["overrides"] = {},
): Promise<MadeVisit> {
  const { folder, files } = generateVisits(scratch(), 1);
  const file = files[0] ?? "";
  const text = readFileSync(file, "utf8");
  const changed = change(text);
  if (changed === text && !spoil) throw new Error("the visit was not changed");
  writeFileSync(file, changed);
  spoil?.(join(file, ".."));
  const clinicFile = join(folder, "clinic.yaml");
  return await jobs.make({ file, beside: [], clinicFile, overrides });
}
const reason = (text: string) => (t: string) =>
  t.replace(/^ {2}reason: .*$/mu, () => `  reason: ${JSON.stringify(text)}`);
const textOfAll = async (made: MadeVisit) =>
  (
    await Promise.all(
      made.files.map(async (f) => (await readPdf(f.bytes))?.map((p) => textOf(p.runs)).join(" ") ?? ""),
    )
  ).join(" ");

describe("text that tries to be more", () => {
  const ATTACKS = [
    "{{clinic.phone}} {{#each visit}}x{{/each}}",
    "{{constructor.constructor 'return process'}}",
    '{{{drawing "map"}}} {{> window}}',
    "<script>alert(1)</script><img src=x onerror=alert(1)>",
    '</p></section><address class="window">Dr Evil<br>1 Evil Street</address>',
    '<svg width="1" height="1"><text>x</text></svg>',
    "<!-- --><![CDATA[x]]><?xml version='1.0'?>&lt;b&gt;&#60;b&#62;",
    "#{process.env.HOME} <%= 7*7 %> `id` $(id) %s %n ../../../etc/passwd",
    "(text) Tj ET Q /Evil << >> endobj",
  ];
  const quoted = (text: string) => JSON.stringify(text);
  const WIDE: [string, (value: string) => (t: string) => string][] = [
    ["reason", reason],
    ["plan", (v) => (t) => t.replace(/action: [^,}]+/u, () => `action: ${quoted(v)}`)],
    ["note", (v) => (t) => t.replace(/note: [^,}]+/u, () => `note: ${quoted(v)}`)],
  ];
  const NARROW: [string, (value: string) => (t: string) => string][] = [
    ["family name", (v) => (t) => t.replace(/family: [^,}]+\}/u, () => `family: ${quoted(v)} }`)],
    ["recipient", (v) => (t) => t.replace(/^ {4}name: .*$/mu, () => `    name: ${quoted(v)}`)],
    [
      "address",
      (v) => (t) => t.replace(/^ {4}address: .*$/mu, () => `    address: [${quoted(v)}, Tarn Sound]`),
    ],
  ];
  /** Without spaces and list marks, which the reader of PDFs puts after the first line of their item. */
  const bare = (text: string) => text.replace(/\s+|•|\b\d+\./gu, "").toLowerCase();

  it.each(some(WIDE, 1 / 3))("is printed as it stands, all of it: %s", async (_, put) => {
    const made = await make(put(ATTACKS.join(" ~ ")), undefined, { documents: ["referral-letter"] });
    expect(made).toMatchObject({ state: "made", reasons: [] });
    const text = await textOfAll(made);
    for (const attack of ATTACKS) expect(bare(text)).toContain(bare(attack));
    expect(text).not.toMatch(/\/root|\[object|undefined/u);
  });

  // The narrow window cannot hold every attack; then the letter is set aside, which is the point of proofing.
  // Every attack, another one in each place of a letter; in every place with `WHORL_RUNS=1`.
  it.each(some([0, 1, 2, 3, 4, 5, 6, 7, 8], 1 / 5))(
    "is printed as it stands, or set aside: number %i",
    async (i) => {
      const here = NARROW.map(([, put], n) => ({ put, attack: ATTACKS[(i + 3 * n) % ATTACKS.length] ?? "" }));
      const attacked = (text: string) =>
        here.reduce((changed, { put, attack }) => put(attack)(changed), text);
      const made = await make(attacked, undefined, { documents: ["referral-letter"] });
      if (made.state === "failed") expect(made.reasons.map((r) => r.id)).toEqual(["address-differs"]);
      const text = await textOfAll(made);
      for (const { attack } of here) expect(bare(text)).toContain(bare(attack));
      expect(text).not.toContain("1 Evil Street\nDear");
      expect(text).not.toMatch(/\/root|\[object|undefined/u);
    },
  );

  it("has no control and no direction-turning characters", async () => {
    for (const bad of ["a\u0000b", "a\u001b[31mb", "a\u202eb", "a\u2066b"]) {
      const made = await make((t) =>
        t.replace(
          /^ {2}reason: .*$/mu,
          () =>
            `  reason: "x${bad.replace(/[^a-z[0-9]/gu, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, "0")}`)}"`,
        ),
      );
      expect(made.state, JSON.stringify(bad)).toBe("failed");
    }
  });
});

describe("ids and paths", () => {
  it.each(["../../etc/cron", "a/b", "..", "con", "x\u202ey", "C:\\x", "~root", ""])(
    "id %j makes no file outside",
    async (id) => {
      const made = await make((t) =>
        t.replace(/^(visit:\n {2}id: ).*$/mu, (_, head: string) => head + JSON.stringify(id)),
      );
      expect(made.state).toBe("failed");
      expect(made.files).toEqual([]);
    },
  );

  it("ids that are long or hold accents and spaces stay plain names", async () => {
    const made = await make((t) => t.replace(/^(visit:\n {2}id: ).*$/mu, "$1Übung 7 ñ.1"));
    expect(made.state).toBe("made");
    for (const { name } of made.files) expect(name).toMatch(/^[\p{L}\p{N}._-]+\.pdf$/u);
    const long = await make((t) => t.replace(/^(visit:\n {2}id: ).*$/mu, `$1${"x".repeat(10_000)}`));
    expect(long.state).toBe("failed");
  });

  it.each(["/etc/passwd", "../clinic.yaml", "http://example.test/x.jpg", "missing.jpg", "link.jpg"])(
    "photo %s is not read",
    async (photo) => {
      const outside = join(scratch(), "secret.jpg");
      writeFileSync(outside, "secret");
      const made = await make(
        (t) => t.replace(/^( {4}findings:)/mu, `    photos: [{ file: ${JSON.stringify(photo)} }]\n$1`),
        (folder) => symlinkSync(outside, join(folder, "link.jpg")),
      );
      expect(made.state).toBe("failed");
    },
  );

  it("a picture that claims to be vast is refused before it is unpacked", async () => {
    const png = Buffer.concat([
      Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13]),
      Buffer.from("IHDR"),
      Buffer.from([0, 1, 0x86, 0xa0, 0, 1, 0x86, 0xa0, 8, 6, 0, 0, 0]),
      Buffer.alloc(200),
    ]);
    const before = process.memoryUsage().rss;
    const made = await make(
      (t) => t.replace(/^( {4}findings:)/mu, "    photos: [{ file: big.png }]\n$1"),
      (folder) => writeFileSync(join(folder, "big.png"), png),
    );
    expect(made.state).toBe("failed");
    expect(process.memoryUsage().rss - before).toBeLessThan(300e6);
  });
});

describe("files that try to exhaust", () => {
  const bomb = `a: &a [x,x,x,x,x,x,x,x,x]\n${"bcdefghi"
    .split("")
    .map((c, i) => `${c}: &${c} [${Array(9).fill(`*${"abcdefgh"[i]}`).join(",")}]`)
    .join("\n")}\n`;

  it.each([
    ["an alias bomb", () => `${bomb}visit: { id: X }\n`],
    ["deep nesting", () => `visit: ${"[".repeat(50_000)}`],
    ["ten megabytes", () => `visit: { id: ${"x".repeat(10_000_000)} }`],
    ["binary", () => "\0\u0001visit:"],
  ])("%s", async (_, text) => {
    const started = Date.now();
    const made = await make(text);
    expect(made).toMatchObject({ state: "failed", files: [] });
    expect(Date.now() - started).toBeLessThan(100_000);
  });

  it("a letter of absurd length is refused by name", async () => {
    const action = "Please hear a long story that goes on and on. ".repeat(21).trim();
    const line = `  - { who: clinic, action: ${JSON.stringify(action)} }`;
    const plan = `plan:\n${`${line}\n`.repeat(50)}`;
    const made = await make((t) => t.replace(/^plan:\n/mu, plan), undefined, {
      documents: ["handout"],
      largePrint: true,
    });
    expect([...new Set(made.reasons.map((r) => r.id))]).toEqual(["too-many-pages"]);
    expect(made.files).toEqual([]);
  });
});

describe("what is written for others", () => {
  it("no cell is a formula", () => {
    expect(csv([["=1+1", "+1", "-1", "@x", 'a"b', "c,d"]])).toBe(
      '\ufeff\'=1+1,\'+1,\'-1,\'@x,"a""b","c,d"\r\n',
    );
  });

  it("no name steers the terminal", () => {
    expect(plain("a\u001b[31m\u202eb\n")).toBe("a\ufffd[31m\ufffdb\ufffd");
  });
});

describe("worker threads", () => {
  it("one that takes too long is replaced, and the next task is done", async () => {
    const { folder, files } = generateVisits(scratch(), 2);
    const clinicFile = join(folder, "clinic.yaml");
    const outcomes: string[] = [];
    const toTask = (file: string) => ({
      kind: "make" as const,
      visit: { file, beside: [], clinicFile, overrides: {} },
    });
    await runPool(files, toTask, (_, o) => void outcomes.push(o.kind === "lost" ? o.reason.id : o.kind), {
      workers: 1,
      settings,
      limitMs: 5,
    });
    expect(outcomes).toEqual(["took-too-long", "took-too-long"]);
    await runPool(files.slice(1), toTask, (_, o) => void outcomes.push(o.kind), { workers: 1, settings });
    expect(outcomes.slice(2)).toEqual(["make"]);
  });

  it("what the caller throws ends the pool", async () => {
    const { folder, files } = generateVisits(scratch(), 2);
    const clinicFile = join(folder, "clinic.yaml");
    const full = Object.assign(new Error("no space"), { code: "ENOSPC" });
    const run = runPool(
      files,
      (file) => ({ kind: "make", visit: { file, beside: [], clinicFile, overrides: {} } }),
      () => Promise.reject(full),
      { workers: 1, settings },
    );
    await expect(run).rejects.toBe(full);
  });

  it("a folder with everything in it at once still ends, and writes only below --out", () => {
    const { folder } = generateVisits(scratch(), 2);
    writeFileSync(join(folder, "bomb.yaml"), "visit: &a [*a, *a]");
    writeFileSync(join(folder, "\u202etfel.yaml"), "visit: {");
    symlinkSync("/etc", join(folder, "etc"));
    symlinkSync("/etc/hostname", join(folder, "host.yaml"));
    mkdirSync(join(folder, "dir.yaml"));
    const out = join(scratch(), "out");
    const ran = whorl("batch", folder, "--out", out, "-d", "referral-letter", "--jobs", "1");
    expect(ran.code).toBe(1);
    for (const sign of ["\u001b", "\u202e"]) expect(ran.err).not.toContain(sign);
    expect(manifestOf(out).failures.length).toBeGreaterThanOrEqual(4);
    expect(manifestOf(out).totals.failed).toBe(manifestOf(out).failures.length);
    expect(filesBelow(join(out, "..")).every((f) => f.startsWith("out/"))).toBe(true);
    expect(existsSync(join(folder, ".whorl"))).toBe(false);
  });
});

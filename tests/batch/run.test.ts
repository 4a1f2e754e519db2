import { existsSync, mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { ended, filesBelow, manifestOf, scratch, startWhorl, whorl, whorlProcess } from "./command.js";
import { type Generated, generateVisits, inventedName } from "./generate-visits.js";

/** More in the same way: `WHORL_VISITS=60`. */
const VISITS = Number(process.env.WHORL_VISITS ?? 7);
const ONE_EACH = ["-d", "referral-letter"];
const LETTER = ["-d", "referral-letter", "--jobs", "1"];
let visits: Generated;
let out: string;
let first: ReturnType<typeof whorl>;

beforeAll(() => {
  visits = generateVisits(join(scratch(), "visits"), VISITS);
  const last = visits.files.findLast((f) => readFileSync(f, "utf8").includes("status: signed")) ?? "";
  edit(last, (t) => t.replace("status: signed", "status: draft"));
  out = join(scratch(), "letters");
  first = whorlProcess("batch", visits.folder, "--out", out, ...ONE_EACH);
});

const edit = (file: string, change: (text: string) => string) => {
  const text = readFileSync(file, "utf8");
  const changed = change(text);
  expect(changed).not.toBe(text);
  writeFileSync(file, changed);
};
const pdfsOf = (folder: string) => filesBelow(folder).filter((f) => f.endsWith(".pdf"));
const bytesOf = (folder: string) =>
  pdfsOf(folder).map((f) => [f, readFileSync(join(folder, f)).toString("base64")]);
const small = (count: number) => generateVisits(join(scratch(), "visits"), count);
/** One visit for each of the first patients. */
const onePerPatient = (files: readonly string[]) =>
  files.filter((f, i) => dirname(f) !== dirname(files[i - 1] ?? ""));
const signed = (count: number) => {
  const made = small(count);
  for (const file of made.files)
    writeFileSync(file, readFileSync(file, "utf8").replace("status: draft", "status: signed"));
  return made;
};

describe("a run of many visits", () => {
  it("makes and proofs every signed visit and says what waits", () => {
    expect(first.err).not.toMatch(/failed +[1-9]/u);
    expect(first.code).toBe(0);
    const manifest = manifestOf(out);
    expect(manifest.totals).toMatchObject({ visits: VISITS, unchanged: 0, failed: 0 });
    expect(manifest.totals.made + manifest.totals.waiting).toBe(VISITS);
    expect(manifest.totals.waiting).toBeGreaterThan(0);
    expect(manifest.documents.every((d) => d.state === "ready" && d.faults?.length === 0)).toBe(true);
    expect(manifest.documents.map((d) => d.file).sort()).toEqual(pdfsOf(out));
  });

  it("keeps documents, manifest and journal to their owner", () => {
    for (const file of [...filesBelow(out), ".whorl/journal.jsonl"])
      expect(statSync(join(out, file)).mode & 0o777, file).toBe(0o600);
  });

  it("names no patient in file names, and writes rows that spreadsheets read", () => {
    const people = Array.from({ length: VISITS }, (_, i) => inventedName(i));
    for (const file of pdfsOf(out)) for (const p of people) expect(file).not.toContain(p.family);
    const rows = readFileSync(join(out, "manifest.csv"), "utf8").split("\r\n");
    expect(rows[0]).toBe("\ufeffvisit,patient_id,document,recipient,postal_code,file,pages,sha256,state");
    expect(rows).toHaveLength(manifestOf(out).documents.length + 2);
    expect(rows[1]).toMatch(
      /^TS-2027-\d{5},TS-5\d{4},referral-letter,\w.*,TS\d \d[A-Z]{2},\S+\.pdf,\d,[0-9a-f]{64},ready$/u,
    );
  });

  it("finds nothing to do the second time, whatever the number of workers", () => {
    const before = bytesOf(out);
    const again = whorl("batch", visits.folder, "--out", out, ...ONE_EACH, "--json", "--jobs", "1");
    expect(again.code).toBe(0);
    expect(JSON.parse(again.out)).toMatchObject({
      made: 0,
      unchanged: manifestOf(out).totals.unchanged,
      failed: 0,
    });
    expect(manifestOf(out).totals.unchanged).toBe(VISITS - manifestOf(out).totals.waiting);
    expect(bytesOf(out)).toEqual(before);
  });

  it("makes again only what changed, what was lost and what was tampered with", () => {
    const [a, b, c] = manifestOf(out).visits.filter((v) =>
      manifestOf(out).documents.some((d) => d.source === v.source),
    );
    const fileOf = (v = a) =>
      join(out, manifestOf(out).documents.find((d) => d.source === v?.source)?.file ?? "");
    edit(a?.file ?? "", (t) => t.replace(/^ {2}reason: (.*)$/mu, "  reason: Follow-up. $1"));
    rmSync(fileOf(b));
    writeFileSync(fileOf(c), "tampered with");
    const before = bytesOf(out).length;
    const again = whorl("batch", visits.folder, "--out", out, ...ONE_EACH, "--json");
    expect(JSON.parse(again.out).made).toBeGreaterThanOrEqual(3);
    expect(JSON.parse(again.out).made).toBeLessThanOrEqual(5);
    expect(bytesOf(out)).toHaveLength(before + 1);
    expect(existsSync(join(out, "withdrawn"))).toBe(false);
  });

  it("proofs the folder as a whole, and sees files swapped, cut off, lost and foreign", () => {
    expect(whorl("proof", out).code).toBe(0);
    const letters = manifestOf(out).documents.filter(
      (d, i, all) => all.findIndex((other) => other.patient === d.patient) === i,
    );
    const [a, b, c, d] = letters.map((l) => join(out, l.file));
    if (!a || !b || !c || !d) throw new Error("too few letters");
    const [bytesA, bytesB] = [readFileSync(a), readFileSync(b)];
    writeFileSync(a, bytesB);
    writeFileSync(b, bytesA);
    writeFileSync(c, readFileSync(c).subarray(0, 20_000));
    rmSync(d);
    writeFileSync(join(out, "old.pdf"), bytesA);
    const bad = whorl("proof", out, "--json");
    expect(bad.code).toBe(1);
    const result: { documents: { state: string; faults: { id: string }[] }[]; strangers: string[] } =
      JSON.parse(bad.out);
    const ids = result.documents.filter((r) => r.state === "bad").map((r) => r.faults.map((f) => f.id));
    expect(ids).toHaveLength(4);
    for (const swapped of ids.slice(0, 2))
      expect(swapped).toEqual(expect.arrayContaining(["not-as-made", "patient-not-named", "other-patient"]));
    expect(ids[2]).toContain("not-as-made");
    expect(ids[3]).toEqual(["missing-document"]);
    expect(result.strangers).toEqual(["old.pdf"]);
    rmSync(join(out, "old.pdf"));
  });
});

describe("what needs a person", () => {
  it("one broken visit stops nothing, and its reasons quote nothing", () => {
    const made = signed(4);
    const [a, b] = made.files;
    edit(a ?? "", (t) =>
      t.replace("findings:", "findigns:").replace(/^ {2}reason: .*$/mu, "  reason: [secret words]"),
    );
    writeFileSync(b ?? "", "visit: {");
    const folder = join(scratch(), "out");
    const ran = whorl("batch", made.folder, "--out", folder, ...LETTER);
    expect(ran.code).toBe(1);
    expect(manifestOf(folder).totals).toMatchObject({ made: 2, failed: 2 });
    const failures = readFileSync(join(folder, "failures.csv"), "utf8");
    expect(failures).toContain("unknown-key");
    for (const text of [failures, ran.err]) expect(text).not.toContain("secret");
  });

  it("drafts wait, and are made and marked only when asked for", () => {
    const made = signed(2);
    for (const file of made.files) edit(file, (t) => t.replace("status: signed", "status: draft"));
    const folder = join(scratch(), "out");
    expect(whorl("batch", made.folder, "--out", folder, ...LETTER).code).toBe(0);
    expect(manifestOf(folder).totals).toMatchObject({ made: 0, waiting: 2 });
    expect(pdfsOf(folder)).toEqual([]);
    const run = join(scratch(), "run.pdf");
    expect(whorl("batch", made.folder, "--out", folder, ...LETTER, "--drafts", "--print-run", run).code).toBe(
      0,
    );
    expect(manifestOf(folder).documents.map((d) => d.state)).toEqual(expect.arrayContaining(["draft"]));
    expect(existsSync(run)).toBe(true);
    expect(whorl("batch", made.folder, "--out", folder, ...LETTER).code).toBe(0);
    expect(pdfsOf(folder).every((f) => f.startsWith("withdrawn/"))).toBe(true);
  });

  it("two files with one visit id, and two people under one number, make nothing", () => {
    const made = signed(8);
    const alone = onePerPatient(made.files);
    for (const file of made.files) if (!alone.includes(file)) rmSync(file);
    const [a, b, c, d] = alone;
    const idIn = (file = "") => /^visit:\n {2}id: (\S+)/mu.exec(readFileSync(file, "utf8"))?.[1] ?? "";
    const patientIn = (file = "") => /^patient:\n {2}id: (\S+)/mu.exec(readFileSync(file, "utf8"))?.[1] ?? "";
    edit(b ?? "", (t) => t.replace(idIn(b), idIn(a).toLowerCase()));
    edit(d ?? "", (t) => t.replaceAll(patientIn(d), patientIn(c)));
    const folder = join(scratch(), "out");
    expect(whorl("batch", made.folder, "--out", folder, ...LETTER).code).toBe(1);
    const ids = manifestOf(folder).failures.map((f) => f.reasons.map((r) => r.id).join());
    expect(ids.filter((id) => id === "visit-id-twice")).toHaveLength(2);
    expect(ids.filter((id) => /differs/u.test(id)).length).toBeGreaterThanOrEqual(2);
  });

  it("a letter that fails its proof is set aside and kept out of the print run", () => {
    const made = signed(3);
    const [a, b] = onePerPatient(made.files);
    const other = /^patient:\n {2}id: (\S+)/mu.exec(readFileSync(b ?? "", "utf8"))?.[1] ?? "";
    edit(a ?? "", (t) => t.replace(/^ {2}reason: .*$/mu, `  reason: As in ${other}.`));
    const folder = join(scratch(), "out");
    const ran = whorl(
      "batch",
      made.folder,
      "--out",
      folder,
      ...LETTER,
      "--print-run",
      join(scratch(), "r.pdf"),
    );
    expect(ran.code).toBe(1);
    expect(ran.err).toContain("other-patient");
    expect(ran.err).not.toContain(other);
    expect(pdfsOf(folder).filter((f) => f.startsWith("set-aside/"))).toHaveLength(1);
    expect(
      manifestOf(folder)
        .documents.map((d) => d.state)
        .sort(),
    ).toContain("set aside");
  });

  it("letters that no longer hold are withdrawn", () => {
    const made = signed(3);
    const folder = join(scratch(), "out");
    whorl("batch", made.folder, "--out", folder, ...LETTER);
    const [a, b, c] = made.files;
    rmSync(a ?? "");
    edit(b ?? "", (t) => t.replace(/^(visit:\n {2}id: )\S+/mu, "$1TS-2027-99999"));
    writeFileSync(c ?? "", "visit: [");
    expect(whorl("batch", made.folder, "--out", folder, ...LETTER).code).toBe(1);
    const kept = manifestOf(folder).documents.map((d) => d.file);
    expect(kept).toEqual(["TS-2027-99999-referral-letter.pdf"]);
    expect(pdfsOf(folder).filter((f) => !f.startsWith("withdrawn/"))).toEqual(kept);
    expect(pdfsOf(folder).length).toBeGreaterThanOrEqual(4);
  });

  it("an empty source and a missing one say so", () => {
    const folder = scratch();
    expect(whorl("batch", folder, "--out", join(folder, "out")).code).toBe(1);
    expect(whorl("batch", join(folder, "nowhere"), "--out", join(folder, "out")).code).toBe(2);
    expect(whorl("batch", folder, "--out", join(folder, "out"), "--shard", "5/4").code).toBe(2);
    expect(whorl("proof", folder).code).toBe(2);
  });

  it("a folder belongs to one source", () => {
    const folder = join(scratch(), "out");
    const one = signed(1);
    expect(whorl("batch", one.folder, "--out", folder, ...LETTER).code).toBe(0);
    const before = bytesOf(folder);
    expect(whorl("batch", signed(2).folder, "--out", folder, ...LETTER).code).toBe(2);
    expect(bytesOf(folder)).toEqual(before);
  });
});

describe("a run that dies", () => {
  it("asked to stop, finishes what is under way and says how to go on", async () => {
    const made = signed(5);
    const folder = join(scratch(), "out");
    const child = startWhorl("batch", made.folder, "--out", folder, ...LETTER);
    const gone = ended(child);
    while (!existsSync(folder) || pdfsOf(folder).length === 0) await new Promise((r) => setTimeout(r, 50));
    child.kill("SIGINT");
    expect(await gone).toBe(1);
    expect(existsSync(join(folder, "manifest.json"))).toBe(false);
    expect(existsSync(join(folder, ".whorl", "lock"))).toBe(false);
    expect(whorl("batch", made.folder, "--out", folder, ...LETTER).code).toBe(0);
  });

  it("a second run on the same folder says so and stops", async () => {
    const made = signed(2);
    const folder = join(scratch(), "out");
    const child = startWhorl("batch", made.folder, "--out", folder, ...LETTER);
    const gone = ended(child);
    while (!existsSync(join(folder, ".whorl", "lock"))) await new Promise((r) => setTimeout(r, 20));
    const second = whorl("batch", made.folder, "--out", folder, ...LETTER);
    expect(second.code).toBe(1);
    expect(second.err).toContain(`process ${child.pid}`);
    expect(await gone).toBe(0);
  });

  it("a torn journal line costs one visit only", () => {
    const made = signed(3);
    const folder = join(scratch(), "out");
    whorl("batch", made.folder, "--out", folder, ...LETTER);
    const journal = join(folder, ".whorl", "journal.jsonl");
    const text = readFileSync(journal, "utf8");
    writeFileSync(journal, text.slice(0, -40));
    const again = JSON.parse(whorl("batch", made.folder, "--out", folder, ...LETTER, "--json").out);
    expect(again).toMatchObject({ made: 1, unchanged: 2 });
  });

  it("where nothing can be written it says so and leaves nothing half-written", () => {
    const made = signed(1);
    const folder = scratch();
    mkdirSync(join(folder, "out"));
    writeFileSync(join(folder, "out", ".whorl"), "in the way");
    const ran = whorl("batch", made.folder, "--out", join(folder, "out"), ...LETTER);
    expect(ran.code).toBe(3);
    expect(pdfsOf(folder)).toEqual([]);
  });
});

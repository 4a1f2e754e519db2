import { createHash } from "node:crypto";
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { readRegister } from "../../src/register/read.js";
import { scratch, whorl } from "../batch/command.js";
import { generateVisits } from "../batch/generate-visits.js";

const sha256 = (file: string) => createHash("sha256").update(readFileSync(file)).digest("hex");
const linesIn = (folder: string, kind: string) =>
  readRegister(folder).lines.filter((line) => line.kind === kind);
const below = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();

describe("withdrawing what has left", () => {
  const clinic = join(scratch(), "clinic");
  const file = join(clinic, "TS-40417", "2026-03-12.yaml");
  const notices = join(scratch(), "notices");
  const because = ["--by", "anneli-thorsby", "--reason", "the culture was another patient's"];
  const withdrawn = (...more: string[]) =>
    whorl("register", "withdraw", "TS-2026-0141", "--in", clinic, ...because, "--out", notices, ...more);

  beforeAll(() => {
    cpSync(inPackage("examples", "patients", "TS-40417"), join(clinic, "TS-40417"), { recursive: true });
    cpSync(inPackage("examples", "clinic.yaml"), join(clinic, "clinic.yaml"));
    whorl("register", clinic, "--begin");
    whorl("letter", file, "--out", join(clinic, "..", "out"), "--no-proof", "-q");
    whorl("sent", file, "--in", clinic, "--by", "wen-castellane", "--yes");
  });

  it("writes nothing without a yes, and nothing of a register that lost the visit as it was signed", () => {
    const before = readFileSync(join(clinic, "register.jsonl"), "utf8");
    expect(withdrawn().code).toBe(1);
    const [signed] = linesIn(clinic, "signed");
    const kept = below(join(clinic, "register")).find(
      (name) => signed && "text" in signed && name.includes(signed.text),
    );
    const text = readFileSync(kept ?? "", "utf8");
    rmSync(kept ?? "");
    const refused = withdrawn("--yes");
    expect(refused.code).toBe(1);
    expect(refused.err).toContain("the register does not hold visit TS-2026-0141 as it was signed");
    expect(existsSync(notices)).toBe(false);
    expect(readFileSync(join(clinic, "register.jsonl"), "utf8")).toBe(before);
    writeFileSync(kept ?? "", text);
  });

  it("makes a notice for the addressee, which waits in the register to be sent, and says that the patient has none", () => {
    const { code, out, err } = withdrawn("--yes", "--json");
    expect(code).toBe(0);
    expect(JSON.parse(out)).toMatchObject({
      withdrawn: [{ document: "referral-letter", state: "sent" }, { document: "handout" }],
      notices: [join(notices, "TS-2026-0141-withdrawal-edition-1-1.pdf")],
    });
    expect(err).toContain("The handout of TS-2026-0141 has left and has no addressee: tell the patient.");
    const { documents } = JSON.parse(whorl("register", clinic, "--json").out) as {
      documents: { sha256: string }[];
    };
    expect(documents).toMatchObject([
      { document: "referral-letter", state: "withdrawn" },
      { document: "handout", state: "withdrawn" },
      { document: "withdrawal", state: "waiting", edition: 1, addressee: { name: "Dr Ilse Brandt" } },
    ]);
    expect(documents[2]?.sha256).toBe(sha256(join(notices, "TS-2026-0141-withdrawal-edition-1-1.pdf")));
    expect(withdrawn("--yes").err).not.toContain("tell the patient");
  });

  it("leaves the next edition to replace the letter, not the notice", () => {
    writeFileSync(file, readFileSync(file, "utf8").replace(/^ {2}reason: .*$/mu, "  reason: Patches."));
    const sign = (...more: string[]) =>
      whorl("sign", file, "--by", "anneli-thorsby", "--reason", "The culture was taken out.", ...more);
    const { digest } = JSON.parse(sign("--json").out) as { digest: string };
    expect(sign("--read", digest).code).toBe(0);
    const out = join(clinic, "..", "again");
    whorl("letter", file, "--out", out, "--format", "text", "-q");
    const text = readFileSync(join(out, "TS-2026-0141-referral-letter.txt"), "utf8").replace(/\s+/gu, " ");
    expect(text).toContain("This letter replaces ours of 12 March 2026. The culture was taken out.");
  });
});

describe("a clinic without a register", () => {
  it("is told so, and letters leave nothing beside its visits", () => {
    const clinic = join(scratch(), "clinic");
    cpSync(inPackage("examples", "patients", "TS-40417"), join(clinic, "TS-40417"), { recursive: true });
    cpSync(inPackage("examples", "clinic.yaml"), join(clinic, "clinic.yaml"));
    const before = below(clinic);
    expect(whorl("letter", clinic, "--out", join(scratch(), "out"), "--no-proof").code).toBe(0);
    expect(below(clinic)).toEqual(before);
    const { code, err } = whorl("register", clinic);
    expect(code).toBe(1);
    expect(err).toContain("No register has begun in");
  });
});

describe("signing, making, sending, correcting", () => {
  const clinic = join(scratch(), "clinic");
  const file = join(clinic, "TS-41388", "2026-09-22.yaml");
  const out = join(scratch(), "out");
  const VISIT = "TS-2026-0613";
  const digestOf = (...more: string[]) =>
    JSON.parse(whorl("sign", file, "--by", "anneli-thorsby", "--json", ...more).out) as {
      digest: string;
      edition: number;
      open: { kind: string }[];
    };
  const letter = (...more: string[]) => whorl("letter", file, "--out", out, "--no-proof", "-q", ...more);

  beforeAll(() => {
    cpSync(inPackage("examples", "patients", "TS-41388"), join(clinic, "TS-41388"), { recursive: true });
    cpSync(inPackage("examples", "clinic.yaml"), join(clinic, "clinic.yaml"));
  });

  it("signs only on the list that was read, and by somebody who may", () => {
    const { digest, edition, open } = digestOf();
    expect(edition).toBe(1);
    expect(open.map(({ kind }) => kind)).toContain("must not be missed");
    const before = readFileSync(file, "utf8");
    expect(whorl("sign", file, "--by", "anneli-thorsby").code).toBe(1);
    expect(whorl("sign", file, "--by", "anneli-thorsby", "--read", "0".repeat(32)).code).toBe(1);
    expect(whorl("sign", file, "--by", "wen-castellane", "--read", digest).code).toBe(1);
    expect(readFileSync(file, "utf8")).toBe(before);
    expect(existsSync(join(clinic, "register.jsonl"))).toBe(false);
    expect(whorl("sign", file, "--by", "anneli-thorsby", "--read", digest).code).toBe(0);
    const now = readFileSync(file, "utf8");
    expect(now).toMatch(/^signed: \{ by: anneli-thorsby, at: .*, seal: 1-[0-9a-f]{64} \}$/mu);
    expect(now.replace(/^signed: .*\n/mu, "")).toBe(before.replace("status: draft", "status: signed"));
    expect(readRegister(clinic).lines.map(({ kind }) => kind)).toEqual(["begun", "signed"]);
    expect(whorl("sign", file, "--by", "anneli-thorsby", "--json").err).toContain("signed already");
  });

  it("keeps what letter makes, once, and gives it back byte for byte", () => {
    expect(letter().code).toBe(0);
    expect(letter().code).toBe(0);
    const made = linesIn(clinic, "made");
    expect(made).toHaveLength(2);
    const shown = join(scratch(), "shown");
    expect(whorl("register", "show", VISIT, "--in", clinic, "--out", shown).code).toBe(0);
    const hashes = readdirSync(shown).map((name) => sha256(join(shown, name)));
    for (const name of readdirSync(out)) expect(hashes).toContain(sha256(join(out, name)));
    expect(hashes).toContain(sha256(file));
  });

  it("marks as sent what a person confirms, and says who got what", () => {
    const mark = (...more: string[]) =>
      whorl("sent", file, "--in", clinic, "--by", "wen-castellane", ...more);
    expect(mark().code).toBe(1);
    expect(linesIn(clinic, "sent")).toEqual([]);
    expect(mark("--document", "referral-letter", "--on", "2026-09-23", "--yes").code).toBe(0);
    expect(mark("--document", "referral-letter", "--yes").code).toBe(1);
    expect(linesIn(clinic, "sent")).toMatchObject([
      { by: "wen-castellane", how: "post", on: "2026-09-23", visit: VISIT, edition: 1 },
    ]);
    const { documents } = JSON.parse(whorl("register", clinic, "--to", "achterberg", "--json").out) as {
      documents: object[];
    };
    expect(documents).toMatchObject([{ document: "referral-letter", state: "sent", visit: VISIT }]);
    expect(whorl("register", clinic, "--to", "brandt").out).toContain("0 documents;");
  });

  it("stops a letter when the visit was changed, and says where", () => {
    const before = readFileSync(file, "utf8");
    writeFileSync(file, before.replace(/^ {2}reason: .*$/mu, "  reason: Thin patches, told anew."));
    const { code, out: said } = whorl("check", file);
    expect(code).toBe(1);
    expect(said).toContain("the visit was changed after it was signed: visit.reason (changed-since-signing)");
    expect(letter().code).toBe(1);
    // Another order of keys and other quotes are no change.
    writeFileSync(file, `# looked through\n${before.replace("format: 1\n", "")}format: 1\n`);
    expect(whorl("check", file).code).toBe(0);
    writeFileSync(file, before.replace(/^ {2}reason: .*$/mu, "  reason: Thin patches, told anew."));
  });

  it("signs again only with a reason, and the next letter says what it replaces and why", () => {
    expect(whorl("sign", file, "--by", "anneli-thorsby", "--json").err).toContain("This would be edition 2");
    const why = "The reason for the visit was wrong.";
    const { digest } = digestOf("--reason", why);
    expect(whorl("sign", file, "--by", "anneli-thorsby", "--reason", why, "--read", digest).code).toBe(0);
    expect(letter("--format", "text").code).toBe(0);
    const text = readFileSync(join(out, `${VISIT}-referral-letter.txt`), "utf8");
    expect(text).toMatch(
      /This letter replaces ours of \d+ \w+ \d{4}\. The reason for the visit was\swrong\./u,
    );
    expect(letter().code).toBe(0);
    const { documents } = JSON.parse(whorl("register", clinic, "--json").out) as { documents: object[] };
    expect(documents).toMatchObject([
      { document: "referral-letter", edition: 1, state: "sent" },
      { document: "handout", edition: 1, state: "waiting" },
      { document: "referral-letter", edition: 2, state: "waiting" },
    ]);
  });

  it("names the first bad line of a register that somebody changed", () => {
    const register = join(clinic, "register.jsonl");
    const before = readFileSync(register, "utf8");
    writeFileSync(register, before.replace("wen-castellane", "rafiq-oyelaran"));
    const { code, out: said, err } = whorl("register", clinic);
    expect(code).toBe(1);
    expect(err).toContain("line 5 of the register: its content is not what its hash says");
    expect(said).toContain("the chain is BROKEN");
    writeFileSync(register, before);
  });

  it("gathers everything of one patient and nothing of another, and erases it", () => {
    cpSync(inPackage("examples", "patients", "TS-40417"), join(clinic, "TS-40417"), { recursive: true });
    expect(whorl("letter", join(clinic, "TS-40417"), "--out", out, "--no-proof", "-q").code).toBe(0);
    const all = join(scratch(), "all");
    expect(whorl("gather-patient", "TS-41388", clinic, "--out", all).code).toBe(0);
    const names = below(all).map((name) => name.slice(all.length + 1));
    expect(names.filter((name) => name.startsWith("documents/"))).toHaveLength(3);
    expect(names.filter((name) => name.startsWith("as-signed/"))).toHaveLength(2);
    expect(names).toContain("visits/TS-41388/2026-09-22.yaml");
    expect(names).toContain("register.jsonl");
    for (const name of below(all)) expect(readFileSync(name, "latin1")).not.toContain("TS-40417");
    expect(whorl("gather-patient", "TS-41388", clinic, "--out", all).code).toBe(2);

    const other = readFileSync(join(clinic, "TS-40417", "2026-03-12.yaml"), "utf8");
    const stray = join(clinic, "stray.yaml");
    writeFileSync(stray, other.replace("TS-40417", "TS-41388").replace("TS-2026-0141", "TS-2026-0999"));
    const refused = whorl("gather-patient", "TS-41388", clinic, "--out", join(scratch(), "none"));
    expect(refused.code).toBe(1);
    expect(refused.out + refused.err).toContain("Nothing was written");
    const erase = (...more: string[]) =>
      whorl("erase-patient", "TS-41388", clinic, "--by", "wen-castellane", "--reason", "asked", ...more);
    expect(erase("--confirm", "TS-41388").code).toBe(1);
    rmSync(stray);
    expect(erase("--confirm", "TS-40417").code).toBe(1);
    expect(existsSync(file)).toBe(true);
    mkdirSync(join(clinic, ".whorl"), { recursive: true });
    for (const kept of ["extracts.json", "desk-list.json"])
      writeFileSync(join(clinic, ".whorl", kept), '{"patient":"TS-41388"}');
    const before = readRegister(clinic).lines;
    expect(erase("--confirm", "TS-41388").code).toBe(0);
    expect(existsSync(file)).toBe(false);
    const { lines, problems } = readRegister(clinic);
    expect(problems).toEqual([]);
    expect(lines.slice(0, -1).map(({ hash }) => hash)).toEqual(before.map(({ hash }) => hash));
    for (const name of below(clinic)) expect(readFileSync(name, "latin1")).not.toContain("TS-41388");
    expect(whorl("register", "show", "TS-2026-0141", "--in", clinic).code).toBe(0);
  });
});

describe("a batch in a clinic with a register", () => {
  it("registers a run once, and prints nothing again that was sent", () => {
    const { folder } = generateVisits(join(scratch(), "clinic"), 3);
    expect(whorl("register", folder, "--begin").code).toBe(0);
    const out = join(scratch(), "letters");
    const printRun = join(scratch(), "run.pdf");
    const batch = (...more: string[]) =>
      whorl("batch", folder, "--out", out, "--print-run", printRun, ...more);
    expect(batch().code).toBe(0);
    const made = linesIn(folder, "made").length;
    expect(made).toBeGreaterThan(4);
    expect(linesIn(folder, "printed")).toMatchObject([{ name: "run.pdf", sha256: sha256(printRun) }]);
    expect(batch().code).toBe(0);
    expect(linesIn(folder, "made")).toHaveLength(made);
    expect(whorl("sent", printRun, "--in", folder, "--by", "wen-castellane", "--yes").code).toBe(0);
    expect(linesIn(folder, "sent")).toHaveLength(made);
    const again = batch();
    expect(again.err).toContain(`run.pdf: 0 documents`);
    expect(again.err).toContain(`${made} documents were sent or withdrawn already`);
    expect(batch("--reprint").err).toContain(`run.pdf: ${made} documents`);
    expect(whorl("proof", out, "--print-run", printRun).code).toBe(0);
    const [file = ""] = below(folder).filter(
      (name) => name.endsWith(".yaml") && !name.endsWith("clinic.yaml"),
    );
    writeFileSync(file, readFileSync(file, "utf8").replace(/^ {2}reason: .*$/mu, "  reason: Told anew."));
    const changed = batch();
    expect(changed.code).toBe(1);
    expect(changed.err).toContain("changed-since-sent");
    expect(readRegister(folder).problems).toEqual([]);
  });
});

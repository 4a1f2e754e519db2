/** Locked PDFs open with the password only and lose nothing; an attached visit comes back byte for byte. */
import { spawnSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test, vi } from "vitest";
import { attachVisit, passwordFault, protectPdf } from "../../src/page/protect.js";
import { inFolder } from "../cli/run-whorl.js";
import { getDocument } from "./pdfjs.js";
import { outline, readBack, rendered } from "./read-back.js";
import { REFERRAL } from "./sample-letter.js";

const PASSWORD = "ropewalk öre 40417";
const YAML = new TextEncoder().encode("# Håndskrevet\r\nformat: 1\nvisit:\n  id: TS-2026-0141\n");
const VISIT = { name: "TS-2026-0141.yaml", yaml: YAML, date: "2026-03-12" };

/** Text and structure tree of every page, and the attachments. */
async function read(bytes: Uint8Array, password?: string) {
  const task = getDocument({
    data: bytes.slice(),
    verbosity: 0,
    ...(password === undefined ? {} : { password }),
  });
  try {
    const document = await task.promise;
    const pages: { text: string; outline: string }[] = [];
    for (let number = 1; number <= document.numPages; number += 1) {
      const page = await document.getPage(number);
      const { items } = await page.getTextContent();
      const text = items.map((item) => ("str" in item ? item.str + (item.hasEOL ? " " : "") : "")).join("");
      pages.push({ text: text.replace(/\s+/gu, " ").trim(), outline: outline(await page.getStructTree()) });
    }
    const attached: Record<string, { filename: string; content: Uint8Array; description?: string }> | null =
      await document.getAttachments();
    return {
      pages,
      attached,
      marked: await document.getMarkInfo(),
    };
  } finally {
    await task.destroy();
  }
}

/** What qpdf says of a PDF; the exit code is 0 only for a clean one. */
function qpdf(bytes: Uint8Array, ...options: string[]): { code: number | null; out: string } {
  return inFolder((folder) => {
    const file = join(folder, "a.pdf");
    writeFileSync(file, bytes);
    const ran = spawnSync("qpdf", [...options, file], { encoding: "utf8" });
    if (ran.error) throw ran.error;
    return { code: ran.status, out: ran.stdout + ran.stderr };
  });
}

test("a locked PDF does not open without the password, or with another", async () => {
  const locked = await protectPdf((await rendered(REFERRAL)).bytes, PASSWORD);
  // pdf.js: code 1 asks for a password, code 2 refuses the one given.
  await expect(read(locked)).rejects.toMatchObject({ name: "PasswordException", code: 1 });
  for (const wrong of ["ropewalk ore 40417", `${PASSWORD} `, PASSWORD.toUpperCase()])
    await expect(read(locked, wrong)).rejects.toMatchObject({ name: "PasswordException", code: 2 });
  expect(qpdf(locked, "--check").code).not.toBe(0);
});

test("with the password every word, the structure tree and the properties are there", async () => {
  const { bytes } = await rendered(REFERRAL);
  const open = await read(bytes);
  const unlocked = await read(await protectPdf(bytes, PASSWORD), PASSWORD);
  expect(open.pages[0]?.text).toContain("Dear Dr Brandt");
  expect(open.pages[0]?.outline).toMatch(/Table.*TH/u);
  expect(unlocked.pages).toEqual(open.pages);
  expect(unlocked.marked).toMatchObject({ Marked: true });
});

test("a password typed with a combining mark opens as one typed without", async () => {
  const locked = await protectPdf((await rendered(REFERRAL)).bytes, PASSWORD.normalize("NFD"));
  expect(PASSWORD.normalize("NFD")).not.toBe(PASSWORD);
  expect((await read(locked, PASSWORD)).pages[0]?.text).toContain("Dear Dr Brandt");
});

test("the cipher is AES-256 in revision 6, reading aloud is allowed, and the file is sound", async () => {
  const locked = await protectPdf((await rendered(REFERRAL)).bytes, PASSWORD);
  const raw = Buffer.from(locked).toString("latin1");
  expect(raw).toMatch(/\/R 6\b/u);
  expect(raw).toMatch(/\/V 5\b/u);
  expect(raw).toMatch(/\/CFM \/AESV3\b/u);
  const shown = qpdf(locked, "--show-encryption", `--password=${PASSWORD}`).out;
  expect(shown).toContain("R = 6");
  for (const kind of ["stream", "string", "file"])
    expect(shown).toContain(`${kind} encryption method: AESv3`);
  expect(shown).toContain("extract for accessibility: allowed");
  expect(shown).toContain("modify anything: not allowed");
  const checked = qpdf(locked, "--check", `--password=${PASSWORD}`);
  expect(checked.code, checked.out).toBe(0);
});

test("salts are new each time", async () => {
  const { bytes } = await rendered(REFERRAL);
  const [once, again] = [await protectPdf(bytes, PASSWORD), await protectPdf(bytes, PASSWORD)];
  expect(Buffer.from(once).equals(Buffer.from(again))).toBe(false);
});

test.each([
  ["", /empty/u],
  ["       ", /space/u],
  ["sevenly", /7 characters; at least 8/u],
  ["ääää", /4 characters/u],
  [" ropewalk", /begins or ends with a space/u],
  ["rope\u0007walk", /invisible/u],
  ["rope\u200bwalk", /invisible/u],
  ["é".repeat(64), /first 127 bytes/u],
])("the password %j is refused without being repeated", async (password, says) => {
  const fault = passwordFault(password);
  expect(fault).toMatch(says);
  if (password !== "" && password.trim() !== "") expect(fault).not.toContain(password);
  await expect(protectPdf(new Uint8Array(), password)).rejects.toThrow(RangeError);
});

test.each(["ropewalk", "é".repeat(63), "ἀλώπηξ θρίξ", "correct horse"])(
  "the password %j will do",
  (password) => {
    expect(passwordFault(password)).toBeUndefined();
  },
);

test("an attached visit comes back byte for byte, and no page changes", async () => {
  const { bytes } = await rendered(REFERRAL);
  const attached = await attachVisit(bytes, VISIT);
  const there = await read(attached);
  expect((await read(bytes)).attached).toBeNull();
  expect(Object.keys(there.attached ?? {})).toEqual([VISIT.name]);
  expect(Buffer.from(there.attached?.[VISIT.name]?.content ?? []).equals(Buffer.from(YAML))).toBe(true);
  expect(await readBack(attached)).toEqual(await readBack(bytes));
  const checked = qpdf(attached, "--check");
  expect(checked.code, checked.out).toBe(0);
});

test("the attachment is the source of the document, YAML by type, dated as the document is", async () => {
  const attached = await attachVisit((await rendered(REFERRAL)).bytes, VISIT);
  const plain = qpdf(attached, "--json", "--json-key=qpdf").out;
  expect(plain).toContain('"/AFRelationship": "/Source"');
  expect(plain).toContain('"/Subtype": "/application/yaml"');
  expect(plain).toContain('"/ModDate": "u:D:20260312000000Z"');
  expect(plain).toContain('"/CreationDate": "u:D:20260312000000Z"');
  expect(plain).toMatch(/"\/AF": \[/u);
  expect(plain).not.toContain("pdf-lib");
});

test("a name that is not in Latin letters, or holds brackets, does no harm", async () => {
  const name = "Визит (1) \\2.yaml";
  const attached = await attachVisit((await rendered(REFERRAL)).bytes, { ...VISIT, name });
  const files = Object.values((await read(attached)).attached ?? {});
  expect(files.map((file) => Buffer.from(file.content).equals(Buffer.from(YAML)))).toEqual([true]);
  const checked = qpdf(attached, "--check");
  expect(checked.code, checked.out).toBe(0);
  expect(qpdf(attached, "--list-attachments").out).toContain(name);
});

test("the same letter and visit give the same bytes again, later", async () => {
  const { bytes } = await rendered(REFERRAL);
  vi.useFakeTimers({ toFake: ["Date"], now: new Date("2026-03-12T08:00:00Z") });
  try {
    const once = await attachVisit(bytes, VISIT);
    vi.setSystemTime(new Date("2027-08-01T19:30:01Z"));
    expect(Buffer.from(await attachVisit(bytes, VISIT)).equals(Buffer.from(once))).toBe(true);
  } finally {
    vi.useRealTimers();
  }
});

test("attached first and locked then, the visit is behind the password too", async () => {
  const both = await protectPdf(await attachVisit((await rendered(REFERRAL)).bytes, VISIT), PASSWORD);
  await expect(read(both)).rejects.toMatchObject({ name: "PasswordException" });
  const there = await read(both, PASSWORD);
  expect(Buffer.from(there.attached?.[VISIT.name]?.content ?? []).equals(Buffer.from(YAML))).toBe(true);
});

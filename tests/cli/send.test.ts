import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { beginRegister } from "../../src/register/append.js";
import { documentsIn } from "../../src/register/documents.js";
import { contentOf } from "../../src/register/kept.js";
import { readRegister } from "../../src/register/read.js";
import { markSent, withdraw } from "../../src/register/sending.js";
import { getDocument } from "../page/pdfjs.js";
import { some } from "../runs.js";
import { clinic, inFolder, patients, whorl } from "./run-whorl.js";

const PASSWORD = "net loft öre 17";
const MARIT = join("TS-40417", "2026-03-12.yaml");
const BRANDT = "    name: Dr Ilse Brandt\n    email: brandt@quayside.example";

/** A clinic with the first visit of one example patient, who is written to by e-mail. */
async function withClinic(use: (folder: string, visit: string) => void | Promise<void>): Promise<void> {
  const { mkdtemp, rm } = await import("node:fs/promises");
  const { tmpdir } = await import("node:os");
  const folder = await mkdtemp(join(tmpdir(), "whorl-send-"));
  try {
    writeFileSync(join(folder, "clinic.yaml"), readFileSync(clinic));
    writeFileSync(join(folder, "pass.txt"), PASSWORD);
    const visit = join(folder, MARIT);
    mkdirSync(join(folder, "TS-40417"));
    cpSync(join(patients, "TS-40417", "photos"), join(folder, "TS-40417", "photos"), { recursive: true });
    const text = readFileSync(join(patients, MARIT), "utf8");
    writeFileSync(visit, text.replace("    name: Dr Ilse Brandt", BRANDT));
    await use(folder, visit);
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

const draft = (folder: string, ...more: string[]) =>
  whorl([
    "send",
    folder,
    "--as",
    "eml",
    "--out",
    join(folder, "drafts"),
    "--password-file",
    join(folder, "pass.txt"),
    ...more,
  ]);

interface Mail {
  readonly head: string;
  readonly body: string;
  readonly pdf: Uint8Array;
}

function mailOf(text: string): Mail {
  const boundary = /boundary="([^"]+)"/u.exec(text)?.[1] ?? "";
  const [head = "", body = "", attached = ""] = text.split(`--${boundary}`);
  const decoded = body
    .replace(/=\r\n/gu, "")
    .replace(/(?:=[0-9A-F]{2})+/gu, (coded) =>
      Buffer.from(coded.replaceAll("=", ""), "hex").toString("utf8"),
    );
  return {
    head,
    body: decoded,
    pdf: new Uint8Array(Buffer.from(attached.split("\r\n\r\n").slice(1).join(""), "base64")),
  };
}

const drafts = (folder: string): string[] =>
  existsSync(join(folder, "drafts")) ? readdirSync(join(folder, "drafts")).sort() : [];

async function words(bytes: Uint8Array, password?: string): Promise<string> {
  const task = getDocument({ data: new Uint8Array(bytes), verbosity: 0, ...(password ? { password } : {}) });
  try {
    const page = await (await task.promise).getPage(1);
    const { items } = await page.getTextContent();
    return items.map((item) => ("str" in item ? item.str : "")).join(" ");
  } finally {
    await task.destroy();
  }
}

describe("whorl send --as eml", () => {
  it("drafts one unsent mail to the addressee, with the locked letter and nothing clinical in the open", () =>
    withClinic(async (folder) => {
      const ran = draft(folder);
      expect(ran.code, ran.err).toBe(0);
      expect(drafts(folder)).toEqual(["TS-2026-0141-referral-letter.eml"]);
      const text = readFileSync(join(folder, "drafts", "TS-2026-0141-referral-letter.eml"), "utf8");
      expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/u);
      const { head, body, pdf } = mailOf(text);
      expect(head).toMatch(/^X-Unsent: 1\r\n/u);
      expect(head).toContain("From: Tarn Sound Hair and Scalp Clinic <desk@tarnsoundscalp.example>\r\n");
      expect(head).toContain("To: Dr Ilse Brandt <brandt@quayside.example>\r\n");
      expect(head).not.toMatch(/^(?:Cc|Bcc):/mu);
      expect(body).toContain("Dear Dr Brandt,");
      expect(body).toContain("We will tell you the password by another way");
      const open = `${head}${body}`;
      for (const told of ["Marit", "Solheim", "1991", "40417", "alopecia", "patch", PASSWORD])
        expect(open).not.toContain(told);
      await expect(words(pdf)).rejects.toMatchObject({ name: "PasswordException" });
      expect(await words(pdf, PASSWORD)).toContain("Solheim");
      expect(ran.out + ran.err).not.toContain(PASSWORD);
    }));

  it("writes to each addressee alone", () =>
    withClinic((folder, visit) => {
      const second =
        "  - { role: dermatologist, name: Dr Tomos Achterberg, email: t@northgate.example, copy: true, address: [Northgate Surgery, 3 Mole Road, Tarn Sound, TS4 1AB] }\nhistory:";
      writeFileSync(visit, readFileSync(visit, "utf8").replace("history:", second));
      expect(draft(folder).code).toBe(0);
      const to = drafts(folder).map(
        (name) => /^To: (.*)\r$/mu.exec(readFileSync(join(folder, "drafts", name), "utf8"))?.[1],
      );
      expect(to).toEqual([
        "Dr Ilse Brandt <brandt@quayside.example>",
        "Dr Tomos Achterberg <t@northgate.example>",
      ]);
    }));

  it.each(
    some(
      [
        ["de", "Guten Tag Dr. Brandt,", "Das Kennwort sagen wir Ihnen auf anderem Weg"],
        ["es", "Buenos días, Dr. Brandt:", "Le daremos la contraseña por otra vía"],
      ],
      1 / 2,
    ),
  )("speaks the language of the letter: %s", (language, salutation, sentence) =>
    withClinic((folder) => {
      const file = join(folder, "clinic.yaml");
      writeFileSync(file, readFileSync(file, "utf8").replace("language: en-GB", `language: ${language}`));
      expect(draft(folder).code).toBe(0);
      const { body } = mailOf(readFileSync(join(folder, "drafts", drafts(folder)[0] ?? ""), "utf8"));
      expect(body).toContain(salutation);
      expect(body).toContain(sentence);
    }),
  );

  it("drafts nothing of a visit that is not signed", () =>
    withClinic((folder, visit) => {
      writeFileSync(visit, readFileSync(visit, "utf8").replace("status: signed", "status: draft"));
      const { code, err } = draft(folder);
      expect([code, drafts(folder)]).toEqual([1, []]);
      expect(err).toContain("visit TS-2026-0141 is not signed (send-unsigned)");
    }));

  it("drafts nothing without the address of clinic and addressee", () =>
    withClinic((folder, visit) => {
      const text = readFileSync(visit, "utf8");
      writeFileSync(visit, text.replace(BRANDT, "    name: Dr Ilse Brandt"));
      const { code, err } = draft(folder);
      expect([code, drafts(folder)]).toEqual([1, []]);
      expect(err).toContain("Dr Ilse Brandt has no e-mail address (send-no-email)");
    }));

  it("drafts nothing to an addressee whose name holds the patient's", () =>
    withClinic((folder, visit) => {
      const rename = (name: string) =>
        writeFileSync(visit, readFileSync(visit, "utf8").replace(/^ {4}name: .*$/mu, `    name: ${name}`));
      rename("Parents of Marit Solheim-Adeyemi");
      const { code, err } = draft(folder);
      expect([code, drafts(folder)]).toEqual([1, []]);
      expect(err).toContain("the name of general practitioner holds the patient's (send-names-patient)");
      rename("Mr and Mrs Solheim-Adeyemi");
      expect(draft(folder).code).toBe(0);
    }));

  it("drafts nothing of a letter that fails its proof, and tells the register of none", () =>
    withClinic((folder) => {
      beginRegister(folder);
      mkdirSync(join(folder, "own", "en"), { recursive: true });
      const template = readFileSync(
        join(patients, "..", "..", "templates", "en", "referral-letter.hbs"),
        "utf8",
      );
      // A template that prints another patient's number.
      writeFileSync(join(folder, "own", "en", "referral-letter.hbs"), `${template}<p>See TS-40120.</p>\n`);
      writeFileSync(join(folder, "clinic.yaml"), `${readFileSync(clinic, "utf8")}templates: own\n`);
      cpSync(join(patients, "TS-40120"), join(folder, "TS-40120"), { recursive: true });
      const { code, err } = draft(folder);
      expect([code, drafts(folder)]).toEqual([1, []]);
      expect(err).toContain("not made ready:");
      expect(documentsIn(readRegister(folder).lines)).toEqual([]);
    }));

  it("is used wrongly without a lock, or with a password on the command line", () =>
    withClinic((folder) => {
      const open = whorl(["send", folder, "--as", "eml"]);
      expect(open.code).toBe(2);
      expect(open.err).toContain("E-mail can be read by others: lock the letters");
      const told = whorl(["send", folder, "--as", "eml", "--password", PASSWORD, "--ask-password"]);
      expect(told.code).toBe(2);
      expect(told.err).not.toContain(PASSWORD);
    }));
});

describe("the register", () => {
  const document = (folder: string) => documentsIn(readRegister(folder).lines)[0];

  it("learns what was made ready, and keeps it byte for byte", () =>
    withClinic((folder) => {
      beginRegister(folder);
      expect(draft(folder).code).toBe(0);
      const one = document(folder);
      expect(one).toMatchObject({ state: "waiting", made: { addressee: { name: "Dr Ilse Brandt" } } });
      expect(contentOf(folder, one?.made.sha256 ?? "")?.kind).toBe("pdf");
      expect(draft(folder).code).toBe(0);
      expect(documentsIn(readRegister(folder).lines)).toHaveLength(1);
    }));

  it("learns nothing of a letter by its label alone", () =>
    withClinic((folder) => {
      beginRegister(folder);
      expect(whorl(["send", folder, "--as", "labels", "--out", join(folder, "out.pdf")]).code).toBe(0);
      expect(document(folder)).toBeUndefined();
    }));

  it("keeps back what was sent until it is asked for again, and what was withdrawn for good", () =>
    withClinic((folder) => {
      beginRegister(folder);
      draft(folder);
      const hash = document(folder)?.made.hash ?? "";
      markSent(folder, [hash], { by: "wen-castellane", how: "e-mail", on: "2026-11-27" });
      const json = (...more: string[]) => JSON.parse(draft(folder, "--json", ...more).out);
      expect(json()).toEqual({ made: [], letters: 0, sent_before: 1, refused: 0 });
      expect(json("--again")).toMatchObject({ letters: 1, sent_before: 0 });
      withdraw(folder, [hash], { by: "wen-castellane", reason: "Wrong side." });
      const { code, err } = draft(folder, "--again");
      expect(code).toBe(1);
      expect(err).toContain("the letter to Dr Ilse Brandt was withdrawn (Wrong side.) (send-withdrawn)");
    }));
});

describe("whorl send --as labels and --as envelopes", () => {
  it("print the addresses of signed letters, on the paper asked for", () =>
    withClinic(async (folder) => {
      const file = join(folder, "out.pdf");
      const labels = whorl([
        "send",
        folder,
        "--as",
        "labels",
        "--sheet",
        "a4-3x8",
        "--first",
        "5",
        "--out",
        file,
      ]);
      expect(labels.code, labels.err).toBe(0);
      expect((await words(readFileSync(file))).replace(/ +/gu, " ")).toBe(
        "Dr Ilse Brandt Quayside Practice 1 Fish Street Tarn Sound TS1 1AA",
      );
      const c5 = whorl(["send", folder, "--as", "envelopes", "--envelope", "C5", "--out", file]);
      expect(c5.code, c5.err).toBe(0);
      expect(await words(readFileSync(file))).toContain("Tarn Sound Hair and Scalp Clinic");
    }));

  it("are used wrongly without a file, or with a label that the sheet does not have", () =>
    inFolder((folder) => {
      const code = (...args: string[]) => whorl(["send", folder, "--as", "labels", ...args]).code;
      expect(code()).toBe(2);
      expect(code("--out", "x.pdf", "--sheet", "a4-2x4", "--first", "9")).toBe(2);
      expect(code("--out", "x.pdf", "--first", "0")).toBe(2);
      expect(code("--out", "x.pdf", "--sheet", "a4-9x9")).toBe(2);
    }));
});

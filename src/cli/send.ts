/** `whorl send`: letters made ready to leave, as e-mail drafts, labels or envelopes. Nothing is sent by this. */
import { join, relative } from "node:path";
import { type Command, InvalidArgumentError, Option } from "commander";
import type { Problem } from "../base/problem.js";
import { draftWords, writeDraft } from "../batch/mail-drafts.js";
import { type LetterToSend, lettersToSend, registerReady, sendingProblem } from "../batch/sending.js";
import { writeWhole } from "../files/write.js";
import { type AddressOptions, renderEnvelopes, renderLabels } from "../page/addresses.js";
import {
  ENVELOPES,
  type EnvelopeName,
  LABEL_SHEETS,
  type LabelSheetName,
} from "../page/type/address-paper.js";
import { EXIT, look, today } from "./context.js";
import { protect, readProtection } from "./protection.js";
import { showProblems } from "./show-problems.js";

const FORMS = ["eml", "labels", "envelopes"] as const;
const SHEET_NAMES = Object.keys(LABEL_SHEETS) as LabelSheetName[];
const ENVELOPE_NAMES = Object.keys(ENVELOPES) as EnvelopeName[];

interface SendOptions {
  readonly as: (typeof FORMS)[number];
  readonly out?: string;
  readonly clinic?: string;
  readonly again?: boolean;
  readonly password?: string | boolean;
  readonly passwordFile?: string;
  readonly askPassword?: boolean;
  readonly sheet?: LabelSheetName;
  readonly first: number;
  readonly envelope?: EnvelopeName;
  readonly json?: boolean;
}

export function sendCommand(program: Command, done: (code: number) => void): void {
  program
    .command("send")
    .summary("make letters ready to leave: e-mail drafts, labels, envelopes")
    .description(
      "Makes what a person then sends: one e-mail draft for each addressee with the locked letter, or a PDF of labels or\nenvelopes. Nothing is sent by this. A visit that is not signed, a letter that was withdrawn and one that fails its proof\nare refused; what the register has as sent is left out.",
    )
    .argument("<visit...>", "folders or visit files")
    .addOption(new Option("--as <form>", "what to make").choices([...FORMS]).makeOptionMandatory())
    .option("-o, --out <path>", "folder for drafts (default: here), or the PDF of labels or envelopes")
    .option("--clinic <file>", "clinic file (default: clinic.yaml beside the visit or above it)")
    .option("--again", "also what was sent already")
    .option("--password-file <file>", "with eml: lock the letters with the one line of this file")
    // Known only to be refused without repeating it.
    .addOption(new Option("--password [word]").hideHelp())
    .option("--ask-password", "with eml: lock the letters with a password that is asked for")
    .addOption(
      new Option("--sheet <name>", "with labels: columns and rows (default: a4-3x7 or letter-3x10)").choices(
        SHEET_NAMES,
      ),
    )
    .option("--first <n>", "with labels: the first free label of a begun sheet, by rows from 1", place, 1)
    .addOption(new Option("--envelope <size>", "with envelopes (default: DL or #10)").choices(ENVELOPE_NAMES))
    .option("--json", "print what was made as JSON")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl send patients --as eml --ask-password --out drafts\n  whorl send visit.yaml --as eml --password-file pass.txt\n  whorl send patients --as labels --sheet a4-3x7 --first 4 --out labels.pdf\n  whorl send patients --as envelopes --envelope C5 --out envelopes.pdf\n\nOnce they have left: whorl sent.",
    )
    .action(async (paths: string[], options: SendOptions) => {
      done(await send(paths, options));
    });
}

function place(text: string): number {
  if (!/^[1-9]\d{0,2}$/u.test(text)) throw new InvalidArgumentError("expected a whole number from 1");
  return Number(text);
}

/** Why the options cannot be followed. */
function misused({ as, out, passwordFile, askPassword, sheet, first }: SendOptions): string | undefined {
  if (as === "eml" && passwordFile === undefined && !askPassword)
    return "E-mail can be read by others: lock the letters with --ask-password or --password-file.";
  if (as !== "eml" && out === undefined) return `--as ${as} makes a file: name it with --out ${as}.pdf.`;
  const most = sheet ? LABEL_SHEETS[sheet].columns * LABEL_SHEETS[sheet].rows : undefined;
  if (most !== undefined && first > most) return `A sheet ${sheet} has ${most} labels; --first is ${first}.`;
  return undefined;
}

async function send(paths: readonly string[], options: SendOptions): Promise<number> {
  const wrong = misused(options);
  const protection = wrong ? { fault: wrong } : await readProtection({ ...options, format: "pdf" });
  if (protection.fault) {
    process.stderr.write(`${protection.fault}\n`);
    return EXIT.usage;
  }
  const { around, files, problems } = look(paths, options.clinic);
  const letters: LetterToSend[] = [];
  let left = 0;
  for (const file of files) {
    const ready = await lettersToSend(file, around, options.again ?? false);
    letters.push(...ready.letters);
    left += ready.left;
    problems.push(...ready.problems.filter((p) => p.severity === "error"));
  }
  const made: string[] = [];
  if (options.as === "eml") {
    for (const letter of letters) {
      const words = draftWords(letter);
      if ("severity" in words) problems.push(words);
      else {
        const { documents } = await protect([letter.document], letter.examined.file, protection);
        const [locked] = documents;
        if (!locked) continue;
        const draft = await writeDraft(words, locked, new Date());
        const path = join(options.out ?? ".", draft.name);
        writeWhole(path, draft.bytes);
        registerReady(letter, around);
        made.push(path);
      }
    }
  } else made.push(...(await addressPages(letters, options, problems)));
  if (problems.length > 0) process.stderr.write(`${showProblems(problems)}\n\n`);
  tell(made, options, { letters: letters.length, left, refused: problems.length });
  if (files.length === 0) process.stderr.write("No visit files found.\n");
  return problems.length > 0 || files.length === 0 ? EXIT.input : EXIT.fine;
}

/** All addresses in one PDF, in the order of the visits; with a problem none. */
async function addressPages(
  letters: readonly LetterToSend[],
  { as, out = "", sheet, first, envelope }: SendOptions,
  problems: Problem[],
): Promise<string[]> {
  const [one] = letters;
  const bare = letters.filter(({ recipient }) => recipient.address.length === 0);
  for (const { recipient, examined } of bare)
    problems.push(
      sendingProblem("send-no-address", examined.file, `${recipient.name} has no postal address`),
    );
  if (!one || bare.length > 0) return [];
  const { clinic } = one;
  const options: AddressOptions = {
    language: clinic.language,
    title: clinic.name,
    date: today(),
    ...(clinic.fonts === undefined ? {} : { fonts: clinic.fonts }),
  };
  const addresses = letters.map(({ recipient }) => ({ lines: [recipient.name, ...recipient.address] }));
  const isUs = clinic.paper === "Letter";
  const { value, problems: unset } =
    as === "labels"
      ? await renderLabels(addresses, sheet ?? (isUs ? "letter-3x10" : "a4-3x7"), first, options)
      : await renderEnvelopes(
          addresses,
          envelope ?? (isUs ? "#10" : "DL"),
          [clinic.name, ...clinic.lines],
          options,
        );
  for (const problem of unset) {
    const number = Number(/^address (\d+)$/u.exec(problem.found ?? "")?.[1] ?? Number.NaN);
    const whose = letters[number - 1];
    problems.push({ ...problem, ...(whose ? { file: whose.examined.file } : {}) });
  }
  if (!value) return [];
  writeWhole(out, value.bytes);
  return [out];
}

function tell(
  made: readonly string[],
  { as, json }: SendOptions,
  sums: { readonly letters: number; readonly left: number; readonly refused: number },
): void {
  if (json) {
    process.stdout.write(
      `${JSON.stringify({ made, letters: sums.letters, sent_before: sums.left, refused: sums.refused }, null, 2)}\n`,
    );
    return;
  }
  for (const path of made) process.stdout.write(`${relative(process.cwd(), path) || path}\n`);
  const count = as === "eml" ? made.length : made.length > 0 ? sums.letters : 0;
  const what = { eml: "draft", labels: "label", envelopes: "envelope" }[as];
  const before = sums.left > 0 ? `; ${sums.left} sent before and left out (--again takes them too)` : "";
  process.stderr.write(
    `${count} ${what}${count === 1 ? "" : "s"}${before}. Nothing was sent: send them yourself, then say so with whorl sent.\n`,
  );
}

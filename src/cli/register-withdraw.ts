/** `whorl register withdraw`: what is not to be sent, or no longer holds, with a notice to whoever was sent it. */
import { join } from "node:path";
import type { Command } from "commander";
import { lookAround } from "../batch/prepare.js";
import { noticesOf } from "../batch/withdrawal.js";
import { writeWhole } from "../files/write.js";
import type { RegisteredDocument } from "../register/documents.js";
import { named } from "../register/pick.js";
import { type Notice, withdraw } from "../register/sending.js";
import { EXIT, loadKnowledge, today } from "./context.js";
import { plain } from "./plain.js";
import {
  codeOf,
  columns,
  confirmed,
  documentJson,
  documentRow,
  type OpenRegister,
  openRegister,
  plural,
  print,
  printJson,
  say,
} from "./register-folder.js";
import { showProblems } from "./show-problems.js";

interface WithdrawOptions {
  readonly in: string;
  readonly by: string;
  readonly reason: string;
  readonly out: string;
  readonly notices: boolean;
  readonly yes?: boolean;
  readonly json?: boolean;
}

export function withdrawCommand(register: Command, done: (code: number) => void): void {
  register
    .command("withdraw")
    .summary("say that a document is not to be sent, or no longer holds")
    .description(
      "Marks documents as withdrawn. For each addressee who was sent one a notice is made that says so, with the reason as you write\nit; the notice stands in the register as a document that waits to be sent.",
    )
    .argument("<what>", "number of a visit (all its documents), or the first figures of a hash")
    .requiredOption("--by <person>", "who withdraws it: a key of the clinic file, or a name")
    .requiredOption("--reason <text>", "why; the notice prints it")
    .option("--in <folder>", "folder of the clinic, or one below it", ".")
    .option("-o, --out <folder>", "where the notices go", ".")
    .option("--no-notices", "make none: somebody writes to them in another way")
    .option("-y, --yes", "do not ask")
    .option("--json", "print the result as JSON")
    .addHelpText(
      "after",
      '\nExamples:\n  whorl register withdraw 3f9a1c20 --by anneli-thorsby --reason "wrong address"\n  whorl register withdraw TS-2026-0141 --by anneli-thorsby --reason "The culture was another patient\'s." --out notices/',
    )
    .action(async (what: string, options: WithdrawOptions) => {
      done(await withdrawWhat(what, options));
    });
}

async function withdrawWhat(what: string, options: WithdrawOptions): Promise<number> {
  const { by, reason, json, yes } = options;
  const open = openRegister(options.in);
  if (!open) return EXIT.input;
  const found = named(open.lines, what).filter(({ state }) => state !== "withdrawn");
  if (found.length === 0) {
    say(`The register knows no document of ${plain(what)} that could be withdrawn.`);
    return EXIT.input;
  }
  if (!json) print(`${columns(found.map(documentRow))}\n`);
  const notices = options.notices ? await noticesFor(found, open, options) : [];
  if (!notices) return EXIT.input;
  const asked = notices.length > 0 ? `, and write ${plural(notices.length, "notice")}` : "";
  if (!yes && !(await confirmed(`Withdraw ${plural(found.length, "document")}${asked}?`))) {
    say("Nothing was withdrawn (without a terminal, --yes says so).");
    return EXIT.input;
  }
  for (const { name, bytes } of notices) writeWhole(join(options.out, name), bytes);
  const hashes = found.map(({ made }) => made.hash);
  const marked = withdraw(open.folder, hashes, { by, reason, notices });
  const files = notices.map(({ name }) => join(options.out, name));
  if (json) printJson({ withdrawn: marked.map(documentJson), notices: files });
  else {
    say(`${plural(marked.length, "document")} withdrawn.`);
    for (const file of files) say(plain(file));
    if (files.length > 0) say("Send the notices, then say so with whorl sent.");
  }
  const bare = found.filter(({ made, sent }) => sent.length > 0 && made.addressee === null);
  for (const { made } of bare)
    say(
      `The ${plain(made.document)} of ${plain(made.visit)} has left and has no addressee: tell the patient.`,
    );
  return codeOf(open);
}

/** Undefined, with the reasons told, where one cannot be made. */
async function noticesFor(
  found: readonly RegisteredDocument[],
  { folder, lines }: OpenRegister,
  { by, reason }: WithdrawOptions,
): Promise<readonly Notice[] | undefined> {
  if (!found.some(({ made, sent }) => sent.length > 0 && made.addressee)) return [];
  const knowledge = loadKnowledge();
  const { around } = lookAround([folder], { knowledge, today: today() });
  const place = join(folder, "clinic.yaml");
  const { clinic, problems } = around.clinics.of(place);
  if (!clinic) {
    process.stderr.write(`${showProblems(problems)}\n\nNothing was withdrawn.\n`);
    return undefined;
  }
  const people = around.people.everyone(place);
  const made = await noticesOf(found, { folder, lines, by, reason, on: today(), clinic, knowledge, people });
  if (made.problems.length > 0) process.stderr.write(`${showProblems(made.problems)}\n\n`);
  if (!made.problems.some(({ severity }) => severity === "error")) return made.notices;
  say("Nothing was withdrawn.");
  return undefined;
}

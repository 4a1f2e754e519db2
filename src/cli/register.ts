/** `whorl register`: what was signed, made, sent and withdrawn, with its chain verified; show, withdraw, merge. */
import { resolve } from "node:path";
import { type Command, InvalidArgumentError, Option } from "commander";
import { groupBy } from "../base/group.js";
import { beginRegister } from "../register/append.js";
import { documentsIn, type RegisteredDocument } from "../register/documents.js";
import { chosen, dayOf } from "../register/pick.js";
import { clinicFolderOf, hasRegister } from "../register/places.js";
import { EXIT } from "./context.js";
import { plain } from "./plain.js";
import {
  codeOf,
  columns,
  documentJson,
  documentRow,
  type OpenRegister,
  openRegister,
  plural,
  print,
  printJson,
  say,
} from "./register-folder.js";
import { mergeCommand, showCommand } from "./register-parts.js";
import { withdrawCommand } from "./register-withdraw.js";

interface RegisterOptions {
  readonly patient?: string;
  readonly visit?: string;
  readonly day?: string;
  readonly to?: string;
  readonly document?: string;
  readonly by: "day" | "patient" | "recipient";
  readonly begin?: boolean;
  readonly json?: boolean;
}

const HEADINGS = ["made", "patient", "visit", "document", "for", "state", "hash"];

export function registerCommand(program: Command, done: (code: number) => void): void {
  const command = program
    .command("register")
    .enablePositionalOptions()
    .summary("say what was made and sent, to whom and when, from a register whose chain is verified")
    .description(
      "Reads the register of a clinic (register.jsonl beside its clinic.yaml): every signature, every document made of a signed visit,\nevery posting and withdrawal. Each line holds the hash of the line before; a break is named with its first bad line, and never mended.\nA register begins with the first signature (whorl sign, or the desk), or with --begin; from then on letter, batch and desk write it.",
    )
    .argument("[folder]", "folder of the clinic, or one below it", ".")
    .option("--patient <number>", "of this patient only")
    .option("--visit <number>", "of this visit only")
    .option("--day <date>", "made or sent on this day", day)
    .option("--to <name>", "for this reader: words of the name, such as brandt")
    .option("-d, --document <name>", "of this kind, such as handout")
    .addOption(new Option("--by <order>", "group by").choices(["day", "patient", "recipient"]).default("day"))
    .option("--begin", "begin a register here")
    .option("--json", "print the result as JSON")
    .addHelpText(
      "after",
      '\nExamples:\n  whorl register patients/\n  whorl register --to brandt\n  whorl register --patient TS-40417 --by recipient\n  whorl register --day 2026-03-12 --json\n  whorl register show 3f9a1c20 --out letter.pdf\n  whorl register withdraw 3f9a1c20 --by anneli-thorsby --reason "wrong address"\n  whorl register merge /media/laptop/clinic\n\nExit codes: 0 the chain holds, 1 it does not, or there is no register; 2 wrong usage; 3 the tool itself failed.',
    )
    .action((folder: string, options: RegisterOptions) => {
      if (options.begin) begin(folder);
      const register = openRegister(folder);
      if (!register) return done(EXIT.input);
      const found = chosen(documentsIn(register.lines), options);
      if (options.json) printJson(asJson(register, found));
      else list(register, found, options.by);
      done(codeOf(register));
    });
  for (const part of [showCommand, withdrawCommand, mergeCommand]) part(command, done);
  for (const part of command.commands) part.exitOverride();
}

function begin(path: string): void {
  const folder = clinicFolderOf(resolve(path));
  if (folder === undefined || hasRegister(folder)) return;
  beginRegister(folder);
  say(`The register of ${plain(folder)} begins.`);
}

function list(
  { lines, broken }: OpenRegister,
  found: readonly RegisteredDocument[],
  by: RegisterOptions["by"],
): void {
  const groups = groupBy(found, (document) => headOf(document, by));
  const keys = [...groups.keys()].sort();
  for (const key of keys) {
    const rows = (groups.get(key) ?? []).map(documentRow);
    print(`${plain(key)}\n${indented(columns([HEADINGS, ...rows]))}\n\n`);
  }
  const first = lines[0];
  const since = first && "at" in first ? ` since ${dayOf(first.at)}` : "";
  const holds = broken ? "the chain is BROKEN" : "the chain holds";
  print(`${plural(found.length, "document")}; ${plural(lines.length, "line")}${since}, ${holds}.\n`);
}

function headOf({ made }: RegisteredDocument, by: RegisterOptions["by"]): string {
  if (by === "patient") return made.patient;
  return by === "recipient" ? (made.addressee?.name ?? "(without an address)") : dayOf(made.at);
}

const indented = (text: string): string => text.replaceAll(/^/gmu, "  ");

function asJson({ lines, broken, folder }: OpenRegister, found: readonly RegisteredDocument[]): object {
  return {
    folder,
    chain: broken ? "broken" : "holds",
    lines: lines.length,
    last: lines.at(-1)?.hash ?? null,
    documents: found.map(documentJson),
  };
}

export function day(text: string): string {
  if (!/^\d{4}-\d\d-\d\d$/u.test(text) || Number.isNaN(Date.parse(text)))
    throw new InvalidArgumentError("a day is written year-month-day, such as 2026-03-12.");
  return text;
}

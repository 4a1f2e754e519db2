/** `whorl sent`: a person says that documents have left the clinic. Nothing is sent by this. */
import { existsSync, readFileSync, statSync } from "node:fs";
import { type Command, Option } from "commander";
import { sha256 } from "../base/sha256.js";
import { scanVisit } from "../clinic-folder/scan.js";
import type { RegisteredDocument } from "../register/documents.js";
import type { RegisterLine } from "../register/line.js";
import { chosen, named } from "../register/pick.js";
import { markSent } from "../register/sending.js";
import { WAYS } from "../register/ways.js";
import { EXIT, today } from "./context.js";
import { plain } from "./plain.js";
import { day } from "./register.js";
import {
  codeOf,
  columns,
  confirmed,
  documentJson,
  documentRow,
  openRegister,
  plural,
  print,
  printJson,
  say,
} from "./register-folder.js";

interface SentOptions {
  readonly in: string;
  readonly by: string;
  readonly how: string;
  readonly on?: string;
  readonly document?: string;
  readonly to?: string;
  readonly yes?: boolean;
  readonly json?: boolean;
}

export function sentCommand(program: Command, done: (code: number) => void): void {
  program
    .command("sent")
    .summary("mark documents as sent in the clinic's register, once they have left")
    .description(
      "Marks what has left the clinic: all documents of a visit, one document, or everything in a print run. Shows them and asks first.\nWhorl sends nothing; a later batch leaves out of its print run what is marked here.",
    )
    .argument(
      "<what...>",
      "print run or document (PDF), visit file or number, or the first figures of a hash",
    )
    .requiredOption("--by <person>", "who confirms it: a key of the clinic file, or a name")
    .addOption(new Option("--how <way>", "how it left").choices([...WAYS]).default("post"))
    .option("--on <date>", "day on which it left (default: today)", day)
    .option("-d, --document <name>", "only of this kind, such as handout")
    .option("--to <name>", "only for this reader: words of the name, such as brandt")
    .option("--in <folder>", "folder of the clinic, or one below it", ".")
    .option("-y, --yes", "do not ask")
    .option("--json", "print the result as JSON")
    .addHelpText(
      "after",
      '\nExamples:\n  whorl sent letters/today.pdf --by wen-castellane\n  whorl sent TS-2026-0141 --document handout --how "by hand" --by rafiq-oyelaran\n  whorl sent 3f9a1c20 --how e-mail --on 2026-03-12 --by wen-castellane --yes\n\nExit codes: 0 all is marked, 1 something named is not known or was sent or withdrawn already, 2 wrong usage, 3 the tool itself failed.',
    )
    .action(async (what: string[], options: SentOptions) => {
      const open = openRegister(options.in);
      if (!open) return done(EXIT.input);
      const unknown: string[] = [];
      const found = new Map<string, RegisteredDocument>();
      for (const one of what) {
        const documents = chosen(documentsOf(open.lines, one), options);
        if (documents.length === 0) unknown.push(one);
        for (const document of documents) found.set(document.made.hash, document);
      }
      for (const one of unknown) say(`The register knows nothing of ${plain(one)}.`);
      const waiting = [...found.values()].filter(({ state }) => state === "waiting");
      const others = [...found.values()].filter(({ state }) => state !== "waiting");
      if (!options.json && others.length > 0) say(`Not marked again:\n${columns(others.map(documentRow))}`);
      if (!options.json && waiting.length > 0) print(`${columns(waiting.map(documentRow))}\n`);
      const isDone = unknown.length === 0 && others.every(({ state }) => state === "replaced");
      if (waiting.length === 0) {
        if (options.json) printJson({ sent: [], unknown, not_marked: others.map(documentJson) });
        else say("Nothing to mark.");
        return done(EXIT.input);
      }
      const on = options.on ?? today();
      const question = `Mark ${plural(waiting.length, "document")} as sent on ${on} (${options.how}), confirmed by ${options.by}?`;
      if (!options.yes && !(await confirmed(question))) {
        say("Nothing was marked (without a terminal, --yes says so).");
        return done(EXIT.input);
      }
      const marked = markSent(
        open.folder,
        waiting.map(({ made }) => made.hash),
        { by: options.by, how: options.how, on },
      );
      if (options.json)
        printJson({ sent: marked.map(documentJson), unknown, not_marked: others.map(documentJson) });
      else say(`${plural(marked.length, "document")} marked as sent.`);
      done(isDone ? codeOf(open) : EXIT.input);
    });
}

/** What a person named: a file is known by its content, a visit file by its number. */
function documentsOf(lines: readonly RegisterLine[], what: string): RegisteredDocument[] {
  if (!existsSync(what) || !statSync(what).isFile()) return named(lines, what);
  if (/\.ya?ml$/iu.test(what)) return named(lines, scanVisit(what).identity?.visit ?? "");
  return named(lines, sha256(readFileSync(what)));
}

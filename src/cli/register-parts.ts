/** `whorl register show | merge`. */
import { join, resolve } from "node:path";
import type { Command } from "commander";
import { safeName, writeWhole } from "../files/write.js";
import { documentsIn, type RegisteredDocument } from "../register/documents.js";
import { contentOf } from "../register/kept.js";
import type { RegisterLine, SignedLine } from "../register/line.js";
import { mergeRegister } from "../register/merge.js";
import { named } from "../register/pick.js";
import { clinicFolderOf } from "../register/places.js";
import { EXIT } from "./context.js";
import { plain } from "./plain.js";
import {
  codeOf,
  columns,
  documentJson,
  documentRow,
  openRegister,
  plural,
  print,
  printJson,
  say,
} from "./register-folder.js";
import { showProblems } from "./show-problems.js";

interface ShowOptions {
  readonly in: string;
  readonly out?: string;
  readonly json?: boolean;
}

/** One thing that the register keeps, byte for byte. */
interface Shown {
  readonly name: string;
  readonly hash: string;
  readonly row: readonly string[];
  readonly json: object;
}

export function showCommand(register: Command, done: (code: number) => void): void {
  register
    .command("show")
    .summary("give back a document byte for byte as it was made, or a visit as it was signed")
    .argument("<what>", "number of a visit, or the first figures (at least 6) of a hash")
    .option("--in <folder>", "folder of the clinic, or one below it", ".")
    .option("-o, --out <path>", "where to write: a file for one document, a folder for several")
    .option("--json", "print what was found as JSON")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl register show TS-2026-0141\n  whorl register show 3f9a1c20 --out letter.pdf\n  whorl register show TS-2026-0141 --out editions/",
    )
    .action((what: string, options: ShowOptions) => {
      const open = openRegister(options.in);
      if (!open) return done(EXIT.input);
      const found = shown(open.lines, what);
      if (found.length === 0) {
        say(`The register knows nothing of ${plain(what)}, or the figures are those of several.`);
        return done(EXIT.input);
      }
      if (options.json) printJson({ found: found.map(({ json }) => json) });
      else print(`${columns(found.map(({ row }) => row))}\n`);
      const gone = options.out === undefined ? 0 : writeShown(open.folder, found, options.out);
      done(gone > 0 ? EXIT.input : codeOf(open));
    });
}

function shown(lines: readonly RegisterLine[], what: string): Shown[] {
  const documents = named(lines, what).map(ofDocument);
  const start = what.toLowerCase();
  const signed = lines.filter(
    (line): line is SignedLine =>
      line.kind === "signed" &&
      (line.visit === what || (/^[0-9a-f]{6,}$/u.test(start) && line.text.startsWith(start))),
  );
  return [...signed.map(ofVisit), ...documents];
}

function ofDocument(document: RegisteredDocument): Shown {
  const { made } = document;
  const stem = made.name.replace(/\.pdf$/iu, "");
  return {
    name: `${safeName(stem, `edition-${made.edition}`, made.sha256.slice(0, 8))}.pdf`,
    hash: made.sha256,
    row: documentRow(document),
    json: { kind: "document", ...documentJson(document) },
  };
}

function ofVisit(line: SignedLine): Shown {
  const { visit, patient, edition, date, by, signed_at, seal, reason, text } = line;
  return {
    name: `${safeName(visit, `as-signed-edition-${edition}`)}.yaml`,
    hash: text,
    row: [
      signed_at.slice(0, 10) || date,
      patient,
      visit,
      `visit as signed, edition ${edition}`,
      "-",
      `signed by ${by}${reason ? `: ${reason}` : ""}`,
      text.slice(0, 12),
    ].map(plain),
    json: {
      kind: "visit",
      visit,
      patient,
      edition,
      date,
      signed_by: by,
      signed_at,
      seal,
      reason,
      sha256: text,
    },
  };
}

/** Writes what was found; returns how many of them are not kept any more. */
function writeShown(folder: string, found: readonly Shown[], out: string): number {
  const isFile = found.length === 1 && /\.(?:pdf|ya?ml|txt)$/iu.test(out);
  let gone = 0;
  for (const { name, hash } of found) {
    const kept = contentOf(folder, hash);
    const file = isFile ? out : join(out, name);
    if (kept) writeWhole(file, kept.bytes);
    else gone += 1;
    say(kept ? plain(file) : `${plain(name)}: its content is not kept any more, or was changed`);
  }
  return gone;
}

interface MergeOptions {
  readonly in: string;
  readonly by: string;
  readonly json?: boolean;
}

export function mergeCommand(register: Command, done: (code: number) => void): void {
  register
    .command("merge")
    .summary("take in the lines and documents of another copy of this register")
    .argument("<other>", "folder of the other copy: the one with its register.jsonl")
    .option("--in <folder>", "folder of the clinic, or one below it", ".")
    .option("--by <person>", "who merges", "")
    .option("--json", "print the result as JSON")
    .addHelpText("after", "\nExample:\n  whorl register merge /media/laptop/clinic")
    .action((other: string, { in: path, by, json }: MergeOptions) => {
      const folder = clinicFolderOf(resolve(path));
      if (folder === undefined) {
        say(`${plain(path)} belongs to no clinic: no clinic.yaml lies there or above.`);
        return done(EXIT.input);
      }
      const result = mergeRegister(folder, resolve(other), by);
      if (result.kind === "refused") {
        process.stderr.write(`${showProblems(result.problems)}\n\nNothing was merged.\n`);
        return done(EXIT.input);
      }
      const open = openRegister(path);
      const { taken, contents } = result;
      if (json) printJson({ taken, contents, chain: open?.broken ? "broken" : "holds" });
      else say(`${plural(taken, "line")} and ${plural(contents, "content")} taken in.`);
      const waiting = open ? documentsIn(open.lines).filter(({ state }) => state === "waiting").length : 0;
      if (!json && waiting > 0) say(`${plural(waiting, "document")} not sent.`);
      done(open ? codeOf(open) : EXIT.input);
    });
}

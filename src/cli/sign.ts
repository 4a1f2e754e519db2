/** `whorl sign`: signs a visit, after everything that is still open has been read. */

import { realpathSync } from "node:fs";
import { basename, dirname, resolve } from "node:path";
import type { Command } from "commander";
import { ClinicFiles } from "../clinic-folder/clinic-file.js";
import { openDesk } from "../desk/desk.js";
import { HttpError } from "../desk/http-error.js";
import type { Signing } from "../desk/messages.js";
import { readAtDesk } from "../desk/read-at-desk.js";
import { hashOf, Sessions } from "../desk/session.js";
import { isSigned } from "../desk/signed.js";
import { checkSigning, registerSigning, signing, signingOf } from "../desk/signing.js";
import { nextEdition, waitingReason } from "../register/sign.js";
import { sealOf } from "../visit/seal.js";
import { EXIT, loadKnowledge, today } from "./context.js";
import { plain } from "./plain.js";
import { confirmed, print, printJson, say } from "./register-folder.js";
import { showProblems } from "./show-problems.js";

interface SignOptions {
  readonly by: string;
  readonly reason?: string;
  readonly read?: string;
  readonly json?: boolean;
}

export function signCommand(program: Command, done: (code: number) => void): void {
  program
    .command("sign")
    .summary("sign a visit, after everything that is still open has been read")
    .description(
      "Shows first, in one list, what is open: what must not be missed, warnings, questions not asked, what will not print. Then asks, and\nwrites the signature into the visit file with a seal over its content; the clinic's register keeps the visit as it was signed.\nA visit that changes after that is no longer signed; signing it again makes the next edition and needs the reason.",
    )
    .argument("<visit>", "visit file")
    .requiredOption("--by <person>", "who signs: key of a person in the clinic file who may sign")
    .option("--reason <text>", "why it is signed again; printed in the letter")
    .option("--read <digest>", "sign without asking, on the list whose digest --json has shown")
    .option("--json", "print what is open as JSON; with --read also the signature")
    .addHelpText(
      "after",
      '\nExamples:\n  whorl sign visit.yaml --by anneli-thorsby\n  whorl sign visit.yaml --by anneli-thorsby --reason "The culture has grown."\n  whorl sign visit.yaml --by anneli-thorsby --json\n\nExit codes: 0 signed (or, with --json alone, could be), 1 not signed, 2 wrong usage, 3 the tool itself failed.',
    )
    .action(async (file: string, options: SignOptions) => {
      try {
        done(await sign(file, options));
      } catch (error) {
        if (!(error instanceof HttpError)) throw error;
        if (error.problems.length > 0) process.stderr.write(`${showProblems(error.problems)}\n\n`);
        say(error.message);
        done(EXIT.input);
      }
    });
}

async function sign(file: string, { by, reason, read, json }: SignOptions): Promise<number> {
  const folder = realpathSync(dirname(resolve(file)));
  const desk = openDesk({ folder, knowledge: loadKnowledge(), clinics: new ClinicFiles(), today });
  const sessions = new Sessions(desk);
  const session = sessions.take(basename(file));
  const { value: visit, problems } = readAtDesk(session.text, session.path, desk);
  if (!visit) throw new HttpError(422, "The visit cannot be signed yet.", problems);
  const lines = desk.registers.linesFor(session.path, visit.id);
  const edition = nextEdition(visit, lines);
  const why = reason ?? waitingReason(visit);
  if (isSigned(session.text) && visit.signed?.seal === sealOf(visit) && reason === undefined)
    throw new HttpError(409, `The visit is signed already (${visit.signed.by}, ${visit.signed.at}).`);
  if (edition > 1 && why === undefined)
    throw new HttpError(
      422,
      `This would be edition ${edition}: say with --reason why it replaces the one before.`,
    );
  const found = await signingOf(session, desk);
  if (json && read === undefined) {
    printJson({ visit: visit.id, edition, ...found, signed: null });
    return found.errors.length > 0 ? EXIT.input : EXIT.fine;
  }
  if (!json) print(shown(found, edition));
  if (read === undefined) {
    if (found.errors.length > 0) throw new HttpError(422, "The visit cannot be signed yet.");
    if (!(await confirmed(`Sign visit ${visit.id} as ${by}${edition > 1 ? `, edition ${edition}` : ""}?`)))
      throw new HttpError(
        409,
        "Not signed. (Without a terminal: --json shows the list and its digest, --read DIGEST signs on it.)",
      );
  }
  await checkSigning(session, desk, by, read ?? found.digest);
  const edits = signing(session, desk, by, new Date(), why);
  const signed = sessions.setStatus(session.file, hashOf(session.text), edits);
  registerSigning(signed, desk);
  const act = readAtDesk(signed.text, signed.path, desk).value?.signed;
  if (json) printJson({ visit: visit.id, edition, ...found, signed: act ?? null });
  else say(`Signed by ${plain(by)}: edition ${edition} of visit ${plain(visit.id)}.`);
  return EXIT.fine;
}

function shown({ open, errors }: Signing, edition: number): string {
  const kinds = [...new Set(open.map(({ kind }) => kind))];
  const parts = kinds.map(
    (kind) =>
      `${kind}:\n${open
        .filter((point) => point.kind === kind)
        .map(({ says }) => `  - ${plain(says)}`)
        .join("\n")}`,
  );
  const head =
    open.length === 0 ? "Nothing is open." : `Open in edition ${edition}:\n\n${parts.join("\n\n")}`;
  return `${head}\n\n${errors.length > 0 ? `${showProblems(errors)}\n\n` : ""}`;
}

/** `whorl new`: a visit file, a clinic file, a mapping file or a folder of templates to start from. */
import { cpSync, existsSync, readdirSync } from "node:fs";
import { join } from "node:path";
import type { Command } from "commander";
import { inPackage } from "../base/root.js";
import { clinicSkeleton } from "../exchange/exchange.js";
import { makeFolder } from "../files/write.js";
import { EXIT, loadKnowledge } from "./context.js";
import { deliver, schemaPlace } from "./new-file.js";
import { newMapping } from "./new-table.js";
import { newVisitCommand } from "./new-visit.js";

export function newCommand(program: Command, done: (code: number) => void): void {
  const command = program
    .command("new")
    .summary("start a visit file, a clinic file, or templates of your own")
    .description("Starts a file to fill in. An existing file is never replaced.")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl new clinic --out clinic.yaml\n  whorl new visit --suspect 'alopecia areata' --sites 'left parietal, occipital' --out visit.yaml\n  whorl new mapping export.csv --out mapping.yaml\n  whorl new templates --out templates",
    );
  newVisitCommand(command, done);
  command
    .command("clinic")
    .summary("start a clinic file: letterhead, people, urgent lines")
    .description(
      "Writes a commented clinic file. It belongs in the folder above all visits, under the name clinic.yaml.",
    )
    .option("-o, --out <file>", "file to write (default: printed)")
    .addHelpText("after", "\nExamples:\n  whorl new clinic --out clinic.yaml")
    .action((options: { out?: string }) => {
      done(deliver("clinic", clinicSkeleton(schemaPlace("clinic", options.out).ref), options.out));
    });
  command
    .command("mapping")
    .summary("draft how the columns of a table become visits")
    .description(
      "Reads the header and cells of a CSV export or a workbook (.xlsx) and drafts a mapping file: what each column seems to be,\nand what its cells say. Check it, then: whorl new visit --from TABLE --map MAPPING --preview.",
    )
    .argument("<table>", "CSV export or .xlsx workbook")
    .option("--sheet <name>", "sheet of the workbook (default: the first)")
    .option("-o, --out <file>", "file to write (default: printed)")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl new mapping export.csv --out mapping.yaml\n  whorl new mapping register.xlsx",
    )
    .action(async (table: string, options: { sheet?: string; out?: string }) => {
      done(await newMapping(table, options, loadKnowledge()));
    });
  command
    .command("templates")
    .summary("copy the templates into a folder of your own, to edit")
    .description(
      "Copies the templates and words of every language. Edit what you like and delete the rest: a file that is not there\nis taken from ours, and stays current. Name the folder under templates: in the clinic file.",
    )
    .requiredOption("-o, --out <folder>", "folder to write, new or empty")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl new templates --out templates\n  whorl letter visit.yaml --templates templates",
    )
    .action((options: { out: string }) => {
      done(copyTemplates(options.out));
    });
}

function copyTemplates(out: string): number {
  if (existsSync(out) && readdirSync(out).length > 0) {
    process.stderr.write(`${out} is not empty; nothing was written. Name another folder.\n`);
    return EXIT.input;
  }
  makeFolder(out);
  const from = inPackage("templates");
  for (const name of readdirSync(from)) cpSync(join(from, name), join(out, name), { recursive: true });
  process.stderr.write(
    `The templates are in ${out}. Keep the files you change and delete the others; ours stand in for them.\n`,
  );
  return EXIT.fine;
}

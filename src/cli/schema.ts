/** `whorl schema`: the JSON Schema of the visit, clinic or marks file, for editors and other programs. */
import { Argument, type Command } from "commander";
import { SCHEMA_KINDS, type SchemaKind, schemaText } from "../exchange/exchange.js";
import { writeWhole } from "../files/write.js";
import { EXIT, loadKnowledge } from "./context.js";

export function schemaCommand(program: Command, done: (code: number) => void): void {
  program
    .command("schema")
    .summary("print the JSON Schema of the visit file, the clinic file or the marks of a photo")
    .description(
      "Prints a JSON Schema (draft 7) with descriptions and every accepted word, so that an editor completes keys and marks\nslips while you type. whorl new writes it beside your files and points the editor to it.",
    )
    .addArgument(new Argument("[kind]", "which file").choices([...SCHEMA_KINDS]).default("visit"))
    .option("-o, --out <file>", "write it to a file instead, replacing an older one")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl schema > whorl-visit.schema.json\n  whorl schema clinic --out whorl-clinic.schema.json",
    )
    .action((kind: SchemaKind, options: { out?: string }) => {
      const text = schemaText(kind, loadKnowledge());
      if (options.out === undefined) process.stdout.write(text);
      else writeWhole(options.out, text);
      done(EXIT.fine);
    });
}

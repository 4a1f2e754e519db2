/** `whorl export`: a visit in a form that other programs read. */
import { type Command, Option } from "commander";
import { hasError, type Problem } from "../base/problem.js";
import { type MadeDocument, makeDocuments } from "../batch/make.js";
import { type Around, type Prepared, prepareFile } from "../batch/prepare.js";
import { recordsToCsv, toFhir, visitRecords } from "../exchange/exchange.js";
import { writeWhole } from "../files/write.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Measures } from "../measure/index.js";
import { measure } from "../measure/index.js";
import { renderDocx } from "../page/docx.js";
import type { Clinic } from "../visit/clinic.js";
import { placeProblems } from "../visit/read.js";
import type { Visit } from "../visit/visit.js";
import { writeVisit } from "../visit/write.js";
import { EXIT, look } from "./context.js";
import { isTaken } from "./new-file.js";
import { showProblems } from "./show-problems.js";

const FORMS = ["fhir", "csv", "docx", "yaml"] as const;
type Form = (typeof FORMS)[number];

interface ExportOptions {
  readonly as: Form;
  readonly out?: string;
  readonly clinic?: string;
  readonly document: string;
}

export function exportCommand(program: Command, done: (code: number) => void): void {
  program
    .command("export")
    .summary("give a visit to other programs: FHIR, CSV, an editable document")
    .description(
      "fhir: an HL7 FHIR R4 document with the findings, measures, impression and a letter for each addressee as PDF. csv: one row for each\nfinding, count, measure and test, for audit; takes many visits, and no names leave. docx: the letter to be edited, a file\nfor each addressee.\nyaml: the visit as Whorl understood it. The engine's own view is in none of them.",
    )
    .argument("<visit...>", "visit files or folders; more than one for csv only")
    .addOption(new Option("--as <form>", "what to make").choices([...FORMS]).makeOptionMandatory())
    .option("-o, --out <file>", "file to write (default: printed; docx needs it)")
    .option("--clinic <file>", "clinic file (default: clinic.yaml beside the visit or above it)")
    .option("-d, --document <name>", "with docx: which document", "referral-letter")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl export visit.yaml --as fhir --out visit.fhir.json\n  whorl export patients --as csv --out audit.csv\n  whorl export visit.yaml --as docx --out letter.docx\n  whorl export visit.yaml --as yaml",
    )
    .action(async (paths: string[], options: ExportOptions) => {
      done(await exportVisits(paths, options));
    });
}

interface Ready {
  readonly visit: Visit;
  readonly measures: Measures;
  /** For the forms that hold a letter. */
  readonly letter?: Prepared & { readonly clinic: Clinic };
}

async function exportVisits(paths: readonly string[], options: ExportOptions): Promise<number> {
  const { around, files, problems } = look(paths, options.clinic);
  const { knowledge } = around.reader;
  if (files.length === 0) {
    process.stderr.write("No visit files found.\n");
    return EXIT.input;
  }
  if (files.length > 1 && options.as !== "csv") {
    process.stderr.write(`--as ${options.as} takes one visit; ${files.length} were named.\n`);
    return EXIT.usage;
  }
  if (options.as === "docx" && options.out === undefined) {
    process.stderr.write("--as docx makes a file: name it with --out letter.docx.\n");
    return EXIT.usage;
  }
  if (options.out !== undefined && isTaken(options.out)) return EXIT.input;
  const ready = files.flatMap((file) => readyVisit(file, options.as, around, problems) ?? []);
  const said = problems.filter((p) => p.severity === "error");
  if (ready.length < files.length || said.length > 0) {
    process.stderr.write(`${showProblems(said)}\n\nNothing was written.\n`);
    return EXIT.input;
  }
  const made = await makeForm(ready, options, knowledge);
  if (made.files.length === 0) {
    process.stderr.write(`${showProblems(made.problems)}\n\nNothing was written.\n`);
    return EXIT.input;
  }
  if (made.files.some(({ file }) => file !== undefined && file !== options.out && isTaken(file)))
    return EXIT.input;
  for (const { file, content } of made.files) {
    if (file === undefined) process.stdout.write(content);
    else {
      writeWhole(file, content);
      process.stderr.write(`${file}\n`);
    }
  }
  return EXIT.fine;
}

/** The visit, weighed where a letter is made of it; undefined, with problems, when something stops it. */
function readyVisit(file: string, as: Form, around: Around, problems: Problem[]): Ready | undefined {
  if (as === "csv" || as === "yaml") {
    const { value: visit, problems: found, places } = around.reader.read(file);
    problems.push(...found);
    if (!visit) return undefined;
    if (as === "csv") problems.push(...placeProblems(places, around.people.problems(file)));
    return { visit, measures: measure(visit, around.reader.knowledge) };
  }
  const { value, clinic, problems: found } = prepareFile(file, around);
  problems.push(...found);
  if (!value || !clinic) return undefined;
  const { visit, measures } = value.examined;
  return { visit, measures, letter: { ...value, clinic } };
}

interface Made {
  /** Printed where a file has no name. */
  readonly files: readonly { readonly file: string | undefined; readonly content: string | Uint8Array }[];
  readonly problems: readonly Problem[];
}

async function makeForm(
  ready: readonly Ready[],
  options: ExportOptions,
  knowledge: Knowledge,
): Promise<Made> {
  const [one] = ready;
  const oneFile = (content: string, problems: readonly Problem[] = []): Made => ({
    files: [{ file: options.out, content }],
    problems,
  });
  if (options.as === "csv") {
    const records = ready.flatMap(({ visit, measures }) => visitRecords(visit, measures, knowledge));
    return oneFile(recordsToCsv(records));
  }
  if (options.as === "yaml" && one) return oneFile(writeVisit(one.visit, knowledge));
  if (!one?.letter) return { files: [], problems: [] };
  const { examined, clinic, change } = one.letter;
  const document = options.as === "docx" ? options.document : "referral-letter";
  const { made, problems } = await makeDocuments(examined, {
    knowledge,
    clinic,
    documents: [document],
    format: options.as === "docx" ? "html" : "pdf",
    ...(change ? { overrides: { change } } : {}),
    ...(one.letter.editions ? { editions: one.letter.editions } : {}),
  });
  if (hasError(problems)) return { files: [], problems };
  if (options.as === "docx") return docxFiles(made, options.out ?? "", problems);
  const bundle = toFhir({
    visit: examined.visit,
    clinic,
    measures: examined.measures,
    knowledge,
    letters: made.map(({ bytes, letter, recipient }) => ({
      pdf: bytes,
      title: letter.title,
      language: letter.language,
      addressee: recipient?.name ?? "",
    })),
    assembled: new Date().toISOString(),
  });
  return oneFile(`${JSON.stringify(bundle, null, 2)}\n`, problems);
}

/** A document for each addressee: the file named, or with `-1`, `-2` before its ending where there are several. */
async function docxFiles(
  made: readonly MadeDocument[],
  out: string,
  before: readonly Problem[],
): Promise<Made> {
  const files: { file: string; content: Uint8Array }[] = [];
  const problems = [...before];
  for (const [i, { letter }] of made.entries()) {
    const { value, problems: more } = await renderDocx(letter);
    problems.push(...more);
    const file = made.length === 1 ? out : out.replace(/(\.[^./\\]*)?$/u, `-${i + 1}$1`);
    if (value) files.push({ file, content: value });
  }
  return { files: hasError(problems) ? [] : files, problems };
}

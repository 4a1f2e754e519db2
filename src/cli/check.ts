/** `whorl check`: every problem of every visit file, nothing written. */
import { type Command, Option } from "commander";
import { PAPERS, type Paper } from "../base/paper.js";
import type { Problem } from "../base/problem.js";
import { checkClinic, isClinicFile } from "../batch/check-clinic.js";
import type { Examined } from "../batch/examine.js";
import { makeProofed } from "../batch/make-proofed.js";
import { type Around, type Prepared, prepareFile } from "../batch/prepare.js";
import type { Knowledge } from "../knowledge/schema.js";
import { composeLetter, packFor } from "../letter/letter.js";
import { printedKnowledge } from "../letter/localise.js";
import { hardSentenceNotes, languageNotes, sparedNames } from "../letter/notes.js";
import { leftOut } from "../letter/what-prints.js";
import type { Clinic } from "../visit/clinic.js";
import { EXIT, look } from "./context.js";
import { countProblems, showProblems } from "./show-problems.js";

interface CheckOptions {
  readonly clinic?: string;
  readonly json?: boolean;
  readonly strict?: boolean;
  readonly whatPrints?: boolean;
  readonly trial: boolean;
  readonly paper?: Paper;
  readonly language?: string;
  readonly templates?: string;
}

export function checkCommand(program: Command, done: (code: number) => void): void {
  program
    .command("check")
    .summary("say what is wrong with visit files, before anything is printed")
    .description(
      "Reads each visit file (or every visit file below a folder) and reports all problems with line and column: spelling,\ncontradictions, slips in numbers, where evidence and impression part ways, and whatever would keep letter and handout\nfrom being printed: characters, addresses, photos, logo, typefaces, templates. Writes nothing.",
    )
    .argument("[visit...]", "visit files or folders, or a clinic file")
    .option("--clinic <file>", "clinic file (default: clinic.yaml beside the visit or above it)")
    .option("--strict", "count warnings that are not accepted as failures")
    .option("--no-trial", "read the visits only: do not try their letters and handouts")
    .addOption(
      new Option("--paper <size>", "try this paper (default: as the clinic file says)").choices(PAPERS),
    )
    .option("--language <tag>", "try this language")
    .option("--templates <folder>", "try your own templates, over ours")
    .option("--json", "print the result as JSON")
    .option("--what-prints", "list what of a visit file the letter and the handout leave out, and why")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl check visit.yaml\n  whorl check patients/ --strict\n  whorl check visit.yaml --json\n  whorl check clinic.yaml",
    )
    .action(async (named: string[], options: CheckOptions) => {
      if (options.whatPrints) {
        process.stdout.write(
          options.json ? `${JSON.stringify(whatPrintsJson(), null, 2)}\n` : whatPrintsText(),
        );
        return done(EXIT.fine);
      }
      const clinics = named.filter(isClinicFile);
      const paths = named.filter((path) => !clinics.includes(path));
      if (named.length === 0) {
        process.stderr.write("error: missing required argument 'visit'\n");
        return done(EXIT.usage);
      }
      const { around, ...found } = look(paths, options.clinic);
      const { knowledge } = around.reader;
      const said = new Set<string>();
      // A language is named once in a run, not at every visit that uses it.
      const once = (p: Problem) =>
        p.id !== "unreviewed-pack" || (!said.has(p.message) && said.add(p.message) !== undefined);
      const files: { file: string; problems: readonly Problem[] }[] = [];
      for (const file of found.files) {
        const { value, clinic, problems } = prepareFile(file, around);
        // A visit can be checked without a clinic file; only a broken one is reported.
        const said = problems.filter((p) => p.id !== "no-clinic-file");
        const notes = clinic && value ? handoutNotes(value.examined, clinic, knowledge) : [];
        const tried = clinic && value && options.trial ? await trialOf(value, clinic, around, options) : [];
        files.push({ file, problems: [...said, ...tried, ...notes.filter(once)] });
      }
      for (const file of clinics) files.push({ file, problems: await checkClinic(file, knowledge) });
      for (const problem of found.problems) files.push({ file: problem.file ?? "", problems: [problem] });
      if (files.length === 0) {
        process.stderr.write("No visit files found.\n");
        done(EXIT.input);
        return;
      }
      const all = files.flatMap((f) => f.problems);
      if (options.json) process.stdout.write(`${JSON.stringify(checkJson(files), null, 2)}\n`);
      else {
        const shown = showProblems(all);
        if (shown) process.stdout.write(`${shown}\n\n`);
        const count = countProblems(all) || "no problems";
        process.stdout.write(`${counted(files.length - clinics.length, clinics.length)}: ${count}\n`);
      }
      const bad = all.some((p) => p.severity === "error" || (options.strict && p.severity === "warning"));
      done(bad ? EXIT.input : EXIT.fine);
    });
}

/** What letter and handout would be refused for. */
async function trialOf(
  { examined, change }: Prepared,
  clinic: Clinic,
  { clinics, people, reader }: Around,
  { paper, language, templates }: CheckOptions,
): Promise<Problem[]> {
  const clinicFile = clinics.fileOf(examined.file);
  const { problems } = await makeProofed(examined, {
    knowledge: reader.knowledge,
    clinic,
    people: people.everyone(examined.file),
    ...(clinicFile === undefined ? {} : { clinicFile }),
    overrides: {
      ...(change ? { change } : {}),
      ...(paper ? { paper } : {}),
      ...(language ? { language } : {}),
      ...(templates ? { templates } : {}),
    },
  });
  return problems;
}

/** `3 visit files, 1 clinic file` */
function counted(visits: number, clinics: number): string {
  const files = (n: number, what: string) => (n === 0 ? [] : [`${n} ${what} file${n === 1 ? "" : "s"}`]);
  return [...files(visits, "visit"), ...files(clinics, "clinic")].join(", ");
}

/** What to know of the handout before it is printed. A handout that cannot be made is left to `letter`. */
function handoutNotes(examined: Examined, clinic: Clinic, knowledge: Knowledge): Problem[] {
  const input = { ...examined, clinic, knowledge };
  const packs = ["handout", "referral-letter"].flatMap((kind) => packFor(kind, input).pack ?? []);
  const handout = composeLetter("handout", input).value;
  const pack = packs[0];
  const names = pack ? sparedNames(printedKnowledge(pack, knowledge), clinic) : [];
  return [
    ...languageNotes(clinic, examined.visit, packs),
    ...(handout ? hardSentenceNotes(handout, examined.visit, names) : []),
  ].map((note) => ({ file: examined.file, ...note }));
}

function whatPrintsText(): string {
  const part = (document: "letter" | "handout") =>
    [
      `Left out of the ${document}:`,
      ...leftOut(document).map(({ key, why }) => `  ${key.padEnd(30)} ${why}`),
    ].join("\n");
  return `Every other key of a visit file is printed.\n\n${part("letter")}\n\n${part("handout")}\n`;
}

function whatPrintsJson(): object {
  return { left_out: { letter: leftOut("letter"), handout: leftOut("handout") } };
}

function checkJson(files: readonly { file: string; problems: readonly Problem[] }[]): object {
  return {
    files: files.map((f) => ({
      file: f.file,
      ok: !f.problems.some((p) => p.severity === "error"),
      problems: f.problems.map((p) => ({
        severity: p.severity,
        id: p.id,
        file: p.file ?? f.file,
        line: p.line ?? null,
        column: p.column ?? null,
        path: p.path ?? null,
        message: p.message,
        found: p.found ?? null,
        expected: p.expected ?? null,
        suggestion: p.suggestion ?? null,
      })),
    })),
  };
}

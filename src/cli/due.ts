/** `whorl due`: what waits in a folder of visits, the most urgent and oldest first. */
import { relative } from "node:path";
import { type Command, InvalidArgumentError } from "commander";
import pc from "picocolors";
import { hasError } from "../base/problem.js";
import { type ClinicWork, clinicWork } from "../batch/clinic-work.js";
import { inOrder, WAITING, type WaitingKind, type WorkLine } from "../due/work-line.js";
import { workCsv, workJson } from "../due/work-out.js";
import { workSheetFacts } from "../due/work-sheet.js";
import type { Knowledge } from "../knowledge/schema.js";
import { inLanguage } from "../knowledge/translate.js";
import { daysBetween, isDay } from "../visit/calendar.js";
import { EXIT, loadKnowledge, today } from "./context.js";
import { plain } from "./plain.js";
import { writeClinicSheet } from "./sheet.js";
import { showProblems } from "./show-problems.js";
import { wrap } from "./wrap.js";

interface DueOptions {
  readonly clinic?: string;
  readonly today: string;
  readonly late?: boolean;
  readonly csv?: boolean;
  readonly json?: boolean;
  readonly out?: string;
}

export function dueCommand(program: Command, done: (code: number) => void): void {
  program
    .command("due")
    .summary("list what waits: unsigned, unsent, unanswered, overdue")
    .description(
      "Lists what the visits below a folder leave open, the most urgent and oldest first: must-not-miss lines, questions not\nasked, tests awaited, follow-ups that did not come, actions asked of others, drafts, letters not made or not sent.\nIt only reads; changing a visit, or a later visit, closes a line.\nA test is late only after the time that late_after of the clinic file gives for it.",
    )
    .argument("<visit...>", "folders or visit files")
    .option("--clinic <file>", "clinic file (default: clinic.yaml beside the visits or above them)")
    .option("--today <date>", "the day to judge by, year-month-day (default: today)", aDay, today())
    .option("--late", "only what somebody must act on now, without what may still come in time")
    .option("--csv", "print the list as CSV")
    .option("--json", "print the list as JSON")
    .option("-o, --out <file>", "make a sheet to print (PDF), for the clinic only")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl due patients\n  whorl due patients --late\n  whorl due patients --out open-work.pdf\n  whorl due patients --csv > open-work.csv\n  whorl due patients --json --today 2026-11-02\n\nExit code 1 when something must be acted on, 0 when nothing must, or only time must pass.",
    )
    .action(async (paths: string[], options: DueOptions) => {
      done(await due(paths, options));
    });
}

export function aDay(text: string): string {
  if (!isDay(text)) throw new InvalidArgumentError("expected a day such as 2026-11-02");
  return text;
}

/** The work of the visits named, its problems told; undefined where there are no visits. */
export function toldWork(
  paths: readonly string[],
  { clinic, today }: { readonly clinic?: string; readonly today: string },
  knowledge: Knowledge,
): (ReturnType<typeof clinicWork> & { readonly hasError: boolean }) | undefined {
  const work = clinicWork(paths, {
    knowledge,
    today,
    ...(clinic === undefined ? {} : { clinicFile: clinic }),
    ...progress(),
  });
  const said = work.problems.filter((p) => p.id !== "no-clinic-file");
  if (said.length > 0) process.stderr.write(`${showProblems(said)}\n\n`);
  if (work.files > 0) return { ...work, hasError: hasError(said) };
  process.stderr.write("No visit files found.\n");
  return undefined;
}

async function due(paths: readonly string[], options: DueOptions): Promise<number> {
  const work = toldWork(paths, options, loadKnowledge());
  if (!work) return EXIT.input;
  const { clinics, files } = work;
  const all = inOrder(clinics.flatMap(({ lines }) => lines));
  const lines = options.late ? all.filter((line) => line.due) : all;
  const shown = (file: string) => (file === "" ? "" : relative(process.cwd(), file) || file);
  if (options.json) {
    const list = lines.map((line) => workJson(line, options.today, shown));
    process.stdout.write(
      `${JSON.stringify({ today: options.today, visits: files, register: registersOf(clinics), lines: list }, null, 2)}\n`,
    );
  } else if (options.csv) process.stdout.write(workCsv(lines, options.today, shown));
  else if (options.out === undefined) process.stdout.write(table(lines, options.today, clinics, files));
  if (options.out !== undefined && !(await writeSheet(options.out, lines, options.today, clinics, files)))
    return EXIT.input;
  return all.some((line) => line.due) || work.hasError ? EXIT.input : EXIT.fine;
}

async function writeSheet(
  out: string,
  lines: readonly WorkLine[],
  day: string,
  clinics: readonly ClinicWork[],
  visits: number,
): Promise<boolean> {
  const language = clinics.find((c) => c.clinic)?.clinic?.language ?? "en";
  const facts = workSheetFacts({
    lines,
    today: day,
    visits,
    hasRegister: registersOf(clinics) === "all",
    ...(language.startsWith("en") ? {} : { local: inLanguage(loadKnowledge(), language) }),
  });
  return writeClinicSheet(out, { name: "open-work", facts, date: day }, clinics);
}

/** Weighing thousands of visits for the first time takes a while; a person at a terminal sees how far it is. */
function progress(): { progress?: (done: number, of: number) => void } {
  if (!process.stderr.isTTY) return {};
  return {
    progress: (done, of) => {
      if (of > 200 && (done % 50 === 0 || done === of))
        process.stderr.write(done === of ? "\r\u001b[K" : `\r${done} of ${of} visits`);
    },
  };
}

function registersOf(clinics: readonly ClinicWork[]): string {
  const exist = clinics.filter(({ register }) => register.exists).length;
  return exist === 0 ? "none" : exist < clinics.length ? "some" : "all";
}

const HEADINGS: Readonly<Record<string, string>> = {
  now: "Now",
  "same day": "The same day",
  days: "Within days",
  soon: "Soon",
  due: "Due",
  waits: "Waits, and is not late",
};

function table(
  lines: readonly WorkLine[],
  day: string,
  clinics: readonly ClinicWork[],
  files: number,
): string {
  const out: string[] = [];
  let heading = "";
  for (const line of lines) {
    const own = line.urgency ?? (line.due ? "due" : "waits");
    if (own !== heading) out.push(...(heading === "" ? [] : [""]), pc.bold(HEADINGS[own] ?? own));
    heading = own;
    out.push(...linesOf(line, day));
  }
  const visits = `${files} visit${files === 1 ? "" : "s"}`;
  out.push(lines.length === 0 ? `Nothing waits in ${visits}.` : `\n${sums(lines)}, in ${visits}.`);
  if (registersOf(clinics) !== "all")
    out.push(pc.dim("There is no register here, so nothing is known of letters made and sent."));
  return `${out.join("\n")}\n`;
}

function linesOf(line: WorkLine, day: string): string[] {
  const { kind, patient, visit, since, by, what, who } = line;
  const days = daysBetween(since, day);
  const age = days === 0 ? "today" : days === 1 ? "1 day" : `${days} days`;
  const until = by === null ? "" : `, ${by < day ? "was due" : "due"} ${by}`;
  const head = `${plain(patient.id)}  ${plain(patient.name)}  ${pc.dim(`${plain(visit)}, since ${since} (${age})${until}`)}`;
  const act = who === "" || kind === "not-asked" ? "" : ` Who: ${plain(who)}.`;
  const ifYes = kind === "not-asked" ? ` (${line.urgency}, if yes)` : "";
  return [`  ${head}`, wrap(`${pc.bold(WAITING[kind].says)}${ifYes}: ${plain(what)}${act}`, 4)];
}

function sums(lines: readonly WorkLine[]): string {
  const counts = new Map<WaitingKind, number>();
  for (const { kind } of lines) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  return [...counts].map(([kind, n]) => `${n} ${WAITING[kind].says.toLowerCase()}`).join(", ");
}

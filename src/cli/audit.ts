/** `whorl audit`: how often impression, engine and later proof agreed in a clinic's visits, and how long things took. */
import type { Command } from "commander";
import pc from "picocolors";
import { type Audit, type AuditRow, audit, type Share } from "../due/audit.js";
import { auditCsv, auditJson, auditSheet } from "../due/audit-sheet.js";
import { printedKnowledge } from "../letter/localise.js";
import { loadPack } from "../letter/pack.js";
import { EXIT, loadKnowledge, today } from "./context.js";
import { aDay, toldWork } from "./due.js";
import { writeClinicSheet } from "./sheet.js";

interface AuditOptions {
  readonly clinic?: string;
  readonly today: string;
  readonly own?: boolean;
  readonly csv?: boolean;
  readonly json?: boolean;
  readonly out?: string;
}

export function auditCommand(program: Command, done: (code: number) => void): void {
  program
    .command("audit")
    .summary("audit a clinic's own work: impression, engine and later proof; days to signing and sending")
    .description(
      "Counts each person once, with the first visit, and holds impression and engine against what a test or a definite impression\nof a later visit showed; by band and by disorder, with Wilson's 95 % intervals. Also how long must-not-miss lines stood open,\ndays from visit to signed to sent, and findings never assessed. Numbers from 1 to 4, and those from which one could work\nthem out, are held back unless --own is given.",
    )
    .argument("<visit...>", "folders or visit files")
    .option("--clinic <file>", "clinic file (default: clinic.yaml beside the visits or above them)")
    .option("--today <date>", "the day to judge by, year-month-day (default: today)", aDay, today())
    .option("--own", "the clinic's own copy: small numbers too")
    .option("--csv", "print the figures as CSV")
    .option("--json", "print the figures as JSON")
    .option("-o, --out <file>", "make a sheet with charts (PDF)")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl audit patients\n  whorl audit patients --own --out audit.pdf\n  whorl audit patients --csv > audit.csv\n  whorl audit patients --json --today 2026-12-31",
    )
    .action(async (paths: string[], options: AuditOptions) => {
      done(await auditVisits(paths, options));
    });
}

async function auditVisits(paths: readonly string[], options: AuditOptions): Promise<number> {
  const knowledge = loadKnowledge();
  const work = toldWork(paths, options, knowledge);
  if (!work) return EXIT.input;
  const { clinics } = work;
  if (clinics.length > 1) {
    process.stderr.write("An audit is of one clinic; the visits named belong to several.\n");
    return EXIT.usage;
  }
  const [clinic] = clinics;
  if (!clinic) return EXIT.input;
  const { visits, register } = clinic;
  const found = audit({
    visits,
    register: register.exists ? register.lines : null,
    today: options.today,
    own: options.own ?? false,
  });
  const unread = visits.filter((v) => !v.extract).length;
  if (unread > 0)
    process.stderr.write(`${unread} visit${unread === 1 ? "" : "s"} cannot be read and count nowhere.\n`);
  if (options.json) process.stdout.write(`${JSON.stringify(auditJson(found, options.today), null, 2)}\n`);
  else if (options.csv) process.stdout.write(auditCsv(found));
  else if (options.out === undefined)
    process.stdout.write(text(found, (id) => knowledge.disorders[id]?.term ?? id));
  if (options.out !== undefined) {
    const { language = "en-GB", templates } = clinic.clinic ?? {};
    const { pack } = loadPack(language, templates);
    if (!pack) return EXIT.input;
    const words = { knowledge: printedKnowledge(pack, knowledge), words: pack.words };
    const sheet = auditSheet(found, options.today, words);
    if (!(await writeClinicSheet(options.out, { name: "audit", ...sheet, date: options.today }, clinics)))
      return EXIT.input;
  }
  return work.hasError || unread > 0 ? EXIT.input : EXIT.fine;
}

function text(found: Audit, term: (id: string) => string): string {
  const out = [
    `${found.visits} visits${found.persons === null ? "" : `, ${found.persons} persons whose first visit held no proof yet`}.`,
  ];
  const table = (heading: string, rows: readonly AuditRow[]) => {
    if (rows.length === 0) return;
    out.push("", pc.bold(heading));
    for (const row of rows) out.push(`  ${term(row.id).padEnd(38)} ${says(row)}`);
  };
  table("Agreed with later proof", [{ ...found.overall, id: "all" }]);
  table("By where the proof came from", found.byProof);
  table("By the engine's band", found.byBand);
  table("By the disorder that was proven", found.byDisorder);
  out.push("", pc.bold("Days"));
  for (const { what, count, median, lower, upper } of found.lasted)
    out.push(
      `  ${LASTED[what].padEnd(38)} ${count === 0 ? "none" : count === null || median === null ? HELD_BACK : `half within ${median} (middle half ${lower} to ${upper}), ${count}`}`,
    );
  if (found.notAssessed.length > 0) {
    out.push("", pc.bold("Most often not assessed, by visits"));
    for (const { id, share } of found.notAssessed)
      out.push(`  ${id.padEnd(38)} ${share ? figures(share) : HELD_BACK}`);
  }
  return `${out.join("\n")}\n`;
}

const HELD_BACK = "held back";
const LASTED = {
  "line closed": "must-not-miss line, raised to closed",
  "line open": "must-not-miss line, still open",
  signed: "visit to signed",
  sent: "signed to first letter sent",
} as const;

function says({ of, impression, engine }: AuditRow): string {
  if (of === 0) return "nobody";
  if (!impression || !engine) return HELD_BACK;
  return `impression ${figures(impression)}; engine ${figures(engine)}`;
}

function figures({ yes, of, share, low, high }: Share): string {
  const whole = (part: number) => Math.round(part * 100);
  return `${yes} of ${of} (${whole(share)} %, ${whole(low)} to ${whole(high)})`;
}

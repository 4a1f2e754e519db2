/** `whorl compare`: what changed between visits of one patient, with its uncertainty. */
import { join, relative } from "node:path";
import type { Command } from "commander";
import pc from "picocolors";
import { hasError } from "../base/problem.js";
import { evaluateVisit } from "../batch/examine.js";
import { makeDocuments } from "../batch/make.js";
import type { Around } from "../batch/prepare.js";
import { writeWhole } from "../files/write.js";
import { changeFacts, progressFacts } from "../letter/change-facts.js";
import { SourceList } from "../letter/measurements.js";
import { loadPack } from "../letter/pack.js";
import { compareVisits } from "../measure/change/compare.js";
import type { Change } from "../measure/change/types.js";
import { placeProblems } from "../visit/read.js";
import type { Visit } from "../visit/visit.js";
import { EXIT, look } from "./context.js";
import { countProblems, showProblems } from "./show-problems.js";
import { wrap } from "./wrap.js";

interface CompareOptions {
  readonly clinic?: string;
  readonly out?: string;
  readonly json?: boolean;
}

export function compareCommand(program: Command, done: (code: number) => void): void {
  program
    .command("compare")
    .summary("say what changed between visits of one patient, and whether it is more than counting error")
    .description(
      "Orders the visits by date, refuses to mix patients, and gives each measure's change with its 95 % limits, the findings\nthat appeared, went, grew or shrank, and what that says of activity. With --out, also makes the progress sheet as PDF.",
    )
    .argument("<visit...>", "the patient's folder, or two or more visit files")
    .option("--clinic <file>", "clinic file (default: clinic.yaml beside the visit or above it)")
    .option("-o, --out <folder>", "also write the progress sheet here")
    .option("--json", "print the whole comparison as JSON")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl compare patients/TS-40417\n  whorl compare first.yaml second.yaml --out today\n  whorl compare patients/TS-40417 --json",
    )
    .action(async (paths: string[], options: CompareOptions) => {
      const { around, files, problems } = look(paths, options.clinic);
      const { knowledge } = around.reader;
      const visits: { file: string; visit: Visit }[] = [];
      for (const file of files) {
        const read = around.reader.read(file);
        const whose = read.value ? placeProblems(read.places, around.people.problems(file)) : [];
        problems.push(...[...read.problems, ...whose].filter((p) => p.severity === "error"));
        if (read.value) visits.push({ file, visit: read.value });
      }
      const compared = hasError(problems)
        ? { problems: [] }
        : compareVisits(
            visits.map((v) => v.visit),
            knowledge,
          );
      problems.push(...compared.problems);
      if (problems.length > 0)
        process.stderr.write(`${showProblems(problems)}\n\n${countProblems(problems)}\n`);
      if (!compared.value) {
        done(EXIT.input);
        return;
      }
      const change = compared.value;
      if (options.json) process.stdout.write(`${JSON.stringify(change, null, 2)}\n`);
      else {
        const words = loadPack("en").pack?.words;
        if (!words) throw new Error("English words are missing");
        const sources = new SourceList(knowledge.sources);
        const f = progressFacts(words, knowledge, change, sources, {});
        const out = [
          pc.bold(
            `Patient ${change.patient.id}: ${change.visits.map((v) => `${v.date} (${v.visit})`).join(", ")}`,
          ),
          wrap(changeFacts(words, knowledge, change).text),
          "",
          pc.bold("Measures"),
          ...table(
            f.measures.map((m) => [
              `${m.term}${m.site ? `, ${m.site}` : ""}`,
              m.before,
              m.now,
              m.effect,
              `${m.verdict}${m.needed ? `; ${m.needed}` : ""}`,
            ]),
          ),
        ];
        if (f.measureNotes.length > 0) out.push(pc.dim(wrap(f.measureNotes.join(" "), 2)));
        if (f.responses.length > 0)
          out.push(
            "",
            pc.bold("Response"),
            ...f.responses.map((r) => wrap(`${r.term}: ${[r.says, ...r.thresholds].join("; ")}`, 2)),
          );
        if (f.findings.length > 0)
          out.push(
            "",
            pc.bold("Findings"),
            ...f.findings.map((s) => wrap(`${s.site}: ${s.changes.join("; ")}`, 2)),
          );
        if (f.activity.length > 0) out.push("", pc.bold("Activity"), ...f.activity.map((a) => wrap(a, 2)));
        if (f.notCompared.length > 0) out.push("", pc.dim(wrap(`Not compared: ${f.notCompared.join("; ")}`)));
        process.stdout.write(`${out.join("\n")}\n`);
      }
      if (options.out) done(await writeSheet(visits, options.out, around, change));
    });
}

async function writeSheet(
  visits: readonly { file: string; visit: Visit }[],
  out: string,
  { clinics, reader: { knowledge } }: Around,
  change: Change,
): Promise<number> {
  const last = [...visits].sort((a, b) => (a.visit.date < b.visit.date ? -1 : 1)).at(-1);
  if (!last) return EXIT.input;
  const { clinic, problems } = clinics.of(last.file);
  if (!clinic) {
    process.stderr.write(`${showProblems(problems)}\n`);
    return EXIT.input;
  }
  const earlier = visits.map((v) => v.visit).filter((v) => v.date < last.visit.date);
  const examined = { file: last.file, ...evaluateVisit(last.visit, { knowledge, clinic, earlier }) };
  const result = await makeDocuments(examined, {
    knowledge,
    clinic,
    documents: ["progress-sheet"],
    format: "pdf",
    overrides: { change },
  });
  if (hasError(result.problems)) {
    process.stderr.write(`${showProblems(result.problems)}\n`);
    return EXIT.input;
  }
  for (const document of result.made) {
    const path = join(out, document.name);
    writeWhole(path, document.bytes);
    process.stderr.write(`${relative(process.cwd(), path) || path}\n`);
  }
  return EXIT.fine;
}

/** Columns wide enough for their text, the last one wrapped. */
function table(rows: readonly (readonly string[])[]): string[] {
  const widths = [0, 1, 2, 3].map((c) => Math.max(0, ...rows.map((r) => (r[c] ?? "").length)));
  return rows.map((r) =>
    `  ${widths.map((w, c) => (r[c] ?? "").padEnd(w)).join("  ")}  ${r[4] ?? ""}`.trimEnd(),
  );
}

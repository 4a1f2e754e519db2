/** `whorl explain`: what the findings support and why, on one screen. */
import { resolve } from "node:path";
import { type Command, Option } from "commander";
import pc from "picocolors";
import { foldWord } from "../base/nearest.js";
import { prepareFile } from "../batch/prepare.js";
import { explainJson } from "../interpret/interpret.js";
import { nearestSpelling, spellings } from "../knowledge/load.js";
import { SourceList } from "../letter/measurements.js";
import { loadPack } from "../letter/pack.js";
import { disorderFacts, type ReasonFacts, reasoningFacts } from "../letter/reasoning-facts.js";
import { fieldsToSeeChange } from "../measure/measure.js";
import { EXIT, look } from "./context.js";
import { countProblems, showProblems } from "./show-problems.js";
import { wrap } from "./wrap.js";

interface ExplainOptions {
  readonly clinic?: string;
  readonly why?: string;
  readonly json?: boolean;
}

/** A reader takes in no more names than this in one line. */
const MOST_UNLIKELY = 8;

const BAND_PAINT: Record<string, (t: string) => string> = {
  "strongly supported": (t) => pc.bold(pc.green(t)),
  supported: pc.green,
  possible: pc.yellow,
};

export function explainCommand(program: Command, done: (code: number) => void): void {
  program
    .command("explain")
    .summary("show what the findings support, with reasons; for the clinician")
    .description(
      "Weighs the recorded findings against published series and says what supports what, and what to look at next.",
    )
    .argument("<visit>", "visit file")
    .option("--clinic <file>", "clinic file")
    .option("--why <disorder>", "the whole ledger of one disorder, with numbers and sources")
    .addOption(new Option("--json", "print the result as JSON"))
    .addHelpText(
      "after",
      '\nExamples:\n  whorl explain visit.yaml\n  whorl explain visit.yaml --why "tinea capitis"\n  whorl explain visit.yaml --json',
    )
    .action((file: string, options: ExplainOptions) => {
      const { around, files } = look([file], options.clinic);
      const { knowledge } = around.reader;
      const { value, problems } = prepareFile(files[0] ?? resolve(file), around);
      const said = problems.filter((p) => p.id !== "no-clinic-file");
      if (!value) {
        process.stderr.write(`${showProblems(said)}\n\n${countProblems(said)}\n`);
        done(EXIT.input);
        return;
      }
      const { visit, measures, interpretation } = value.examined;
      if (options.json) {
        process.stdout.write(`${JSON.stringify(explainJson(interpretation, measures), null, 2)}\n`);
        return;
      }
      const words = loadPack("en").pack?.words;
      if (!words) throw new Error("English words are missing");
      const sources = new SourceList(knowledge.sources);
      if (options.why !== undefined) {
        const names = spellings(knowledge.disorders);
        const wanted = [...names].find(([word]) => foldWord(word) === foldWord(options.why ?? ""))?.[1];
        const view = interpretation.disorders.find((d) => d.id === wanted);
        if (!view) {
          const near = nearestSpelling(options.why, names)[0];
          process.stderr.write(
            `Unknown disorder "${options.why}".${near ? ` Did you mean "${near}"?` : ""}\n`,
          );
          done(EXIT.usage);
          return;
        }
        const facts = disorderFacts(words, knowledge, view, sources, Number.POSITIVE_INFINITY);
        const out = [
          pc.bold(`${facts.term}: ${facts.band}`),
          wrap(
            `Leads in ${facts.leads} of draws. Starting weight ${facts.base}. Weights are natural logarithms; the factor multiplies or divides the odds.`,
          ),
          "",
          pc.bold("For"),
          ...reasonLines(facts.for, true),
          "",
          pc.bold("Against"),
          ...reasonLines(facts.against, true),
          "",
          pc.bold("Sources"),
          ...sources.list().map((s) => wrap(`[${s.number}] ${s.citation}`, 4)),
        ];
        process.stdout.write(`${out.join("\n")}\n`);
        return;
      }
      const f = reasoningFacts(words, knowledge, visit, measures, interpretation, sources);
      const out: string[] = [
        pc.bold(`Visit ${visit.id} of ${visit.date}`) +
          pc.dim("   for the clinician only; supports judgement, does not diagnose"),
        "",
        `${pc.bold("Your impression")}  the evidence ${f.agreement.word}`,
        wrap(f.agreement.why, 2),
        "",
      ];
      if (f.mustNotMiss.length > 0) {
        out.push(pc.bold("Must not miss"));
        for (const m of f.mustNotMiss) {
          out.push(wrap(`${m.answered ? "[answered]" : pc.red("[open]")} ${m.name}: ${m.why}`, 2));
        }
        out.push("");
      }
      out.push(pc.bold("Supported by what was recorded"));
      for (const d of f.leading) {
        const paint = BAND_PAINT[d.band] ?? ((t: string) => t);
        out.push(`  ${pc.bold(d.term)}  ${paint(d.band)}${pc.dim(`  leads in ${d.leads} of draws`)}`);
        out.push(
          ...reasonLines(d.for.slice(0, 4), false, "+"),
          ...reasonLines(d.against.slice(0, 2), false, "−"),
        );
      }
      if (f.leading.length === 0) out.push("  Nothing stands out from what was recorded.");
      if (f.second) out.push(wrap(`Second disorder: ${f.second.term}. ${f.second.why}`, 2));
      if (f.unlikely.length > 0) {
        const named = f.unlikely.slice(0, MOST_UNLIKELY).join(", ");
        const more =
          f.unlikely.length > MOST_UNLIKELY ? ` and ${f.unlikely.length - MOST_UNLIKELY} more` : "";
        out.push(pc.dim(wrap(`Unlikely: ${named}${more}.`, 2)));
      }
      out.push("");
      if (f.activity.length > 0) {
        out.push(pc.bold("Activity and stage"));
        for (const a of f.activity)
          out.push(wrap(`${a.term}: ${a.state}${a.stage ? `, ${a.stage}` : ""}. ${a.says.join(" ")}`, 2));
        out.push("");
      }
      if (f.lookNext.length > 0) {
        out.push(pc.bold("Look at next"));
        f.lookNext.forEach((l, i) => {
          out.push(wrap(`${i + 1}. ${l.says} ${pc.dim(`(${l.bits} bits)`)}`, 2));
        });
        out.push("");
      }
      const thin = measures.measured.flatMap((m) => {
        const needed = m.id === "hair-density" ? fieldsToSeeChange(m, knowledge) : undefined;
        const fields = visit.sites[m.siteIndex ?? -1]?.fields.length ?? 0;
        if (!needed || needed.fields <= fields) return [];
        const percent = Math.round(Math.abs(needed.factor - 1) * 100);
        return [
          `${m.site ?? ""}: ${fields} counted, about ${needed.fields} at each visit would show a change of ${percent} %`,
        ];
      });
      if (thin.length > 0)
        out.push(wrap(`${pc.bold("Fields to count for hair density:")} ${thin.join("; ")}.`, 0));
      if (f.notAssessed.length > 0)
        out.push(wrap(`${pc.bold("Not assessed:")} ${f.notAssessed.join(", ")}.`, 0));
      out.push(
        pc.dim(
          `Assessed: ${f.assessedShare} of the findings that bear on the leading disorders. --why DISORDER shows the whole ledger.`,
        ),
      );
      process.stdout.write(`${out.join("\n")}\n`);
      const shown = showProblems(said);
      if (shown) process.stderr.write(`\n${shown}\n`);
    });
}

function reasonLines(reasons: readonly ReasonFacts[], full: boolean, sign = " "): string[] {
  if (reasons.length === 0) return full ? ["    none"] : [];
  return reasons.flatMap((r) => {
    const place = r.site ? `, ${r.site}` : "";
    const head = wrap(`${sign} ${r.says}${place}  ${pc.dim(`${r.weight} (${r.factor})`)}`, 4);
    return full
      ? [head, pc.dim(wrap(`${r.frequency ? `${r.frequency}. ` : ""}Source: [${r.source}]`, 8))]
      : [head];
  });
}

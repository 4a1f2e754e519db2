/** `whorl explain`: what the findings support and why, on one screen. */
import { resolve } from "node:path";
import { type Command, Option } from "commander";
import pc from "picocolors";
import type { Examined } from "../batch/examine.js";
import { prepareFile } from "../batch/prepare.js";
import { explainJson } from "../interpret/interpret.js";
import type { Knowledge } from "../knowledge/schema.js";
import { SourceList } from "../letter/measurements.js";
import { loadPack } from "../letter/pack.js";
import type { Words } from "../letter/phrases.js";
import {
  disorderFacts,
  type ReasonFacts,
  type ReasoningFacts,
  reasoningFacts,
} from "../letter/reasoning-facts.js";
import { fieldsToSeeChange } from "../measure/index.js";
import { vocabulary } from "../visit/vocabulary.js";
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

/** Said where a healthy scalp would explain the picture about as well. */
const HEALTHY = "what was found does not by itself point to a disorder, nor does it show that there is none.";

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
      const { examined } = value;
      if (options.json) {
        const { interpretation, measures } = examined;
        process.stdout.write(`${JSON.stringify(explainJson(interpretation, measures), null, 2)}\n`);
        return;
      }
      const words = loadPack("en").pack?.words;
      if (!words) throw new Error("English words are missing");
      const told = { ...examined, knowledge, words, sources: new SourceList(knowledge.sources) };
      if (options.why !== undefined) {
        const ledger = ledgerOf(options.why, told);
        if (ledger.lines) process.stdout.write(`${ledger.lines.join("\n")}\n`);
        else process.stderr.write(`${ledger.unknown}\n`);
        if (!ledger.lines) done(EXIT.usage);
        return;
      }
      process.stdout.write(`${screen(told).join("\n")}\n`);
      const shown = showProblems(said);
      if (shown) process.stderr.write(`\n${shown}\n`);
    });
}

interface Told extends Examined {
  readonly knowledge: Knowledge;
  readonly words: Words;
  readonly sources: SourceList;
}

/** The whole ledger of one disorder, or what to say of a name that nothing knows. */
function ledgerOf(
  why: string,
  told: Told,
): { lines: string[]; unknown?: never } | { lines?: never; unknown: string } {
  const { knowledge, words, sources, interpretation } = told;
  const names = vocabulary("a disorder", Object.values(knowledge.disorders));
  const wanted = names.find(why);
  const view = interpretation.disorders.find((d) => d.id === wanted);
  if (!view) {
    if (wanted !== undefined)
      return { unknown: `${knowledge.disorders[wanted]?.term ?? why} is not weighed.` };
    const near = names.near(why).join('" or "');
    return {
      unknown: `Unknown disorder "${why}". ${near ? `Did you mean "${near}"?` : "whorl catalogue lists all."}`,
    };
  }
  const facts = disorderFacts(words, knowledge, view, sources, Number.POSITIVE_INFINITY);
  return {
    lines: [
      pc.bold(`${facts.term}: ${facts.band}`),
      wrap(
        `Leads in ${facts.leads} draws over the uncertainty of the published frequencies. Starting weight ${facts.base}, score ${view.score.toFixed(2)}. Weights are natural logarithms; the factor multiplies or divides the odds.`,
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
    ],
  };
}

/** Everything on one screen. */
function screen(told: Told): string[] {
  const { knowledge, words, sources, visit, measures, interpretation } = told;
  const f = reasoningFacts(words, knowledge, visit, measures, interpretation, sources);
  const verdict =
    f.agreement.verdict === "no-impression" ? "none recorded" : `the evidence ${f.agreement.word}`;
  const out: string[] = [
    pc.bold(`Visit ${visit.id} of ${visit.date}`) +
      pc.dim("   for the clinician only; supports judgement, does not diagnose"),
    "",
    `${pc.bold("Your impression")}  ${verdict}`,
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
  out.push(...supported(f, told), "");
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
  const thin = thinFields(told);
  if (thin.length > 0)
    out.push(wrap(`${pc.bold("Fields to count for hair density:")} ${thin.join("; ")}.`, 0));
  if (f.notAssessed.length > 0) out.push(wrap(`${pc.bold("Not assessed:")} ${f.notAssessed.join(", ")}.`, 0));
  out.push(
    pc.dim(
      `Assessed: ${f.assessedShare} of the findings that bear on the leading disorders. --why DISORDER shows the whole ledger.`,
    ),
  );
  return out;
}

/** What leads, with its reasons, and what speaks against leaning on it. */
function supported(f: ReasoningFacts, { interpretation, knowledge }: Told): string[] {
  const weighed = `${interpretation.disorders.length} disorders weighed`;
  const out = [
    `${pc.bold("Supported by what was recorded")}${pc.dim(`  among the ${weighed}; it may be none of them`)}`,
  ];
  for (const d of f.leading) {
    const paint = BAND_PAINT[d.band] ?? ((t: string) => t);
    out.push(`  ${pc.bold(d.term)}  ${paint(d.band)}${pc.dim(`  leads in ${d.leads} draws`)}`);
    out.push(
      ...reasonLines(d.for.slice(0, 4), false, "+"),
      ...reasonLines(d.against.slice(0, 2), false, "−"),
    );
  }
  if (f.leading.length === 0) out.push("  Nothing stands out from what was recorded.");
  if (interpretation.healthy.comparable) out.push(wrap(`Also seen on healthy scalps: ${HEALTHY}`, 2));
  const first = interpretation.disorders[0];
  if (first && interpretation.unexplained.length > 0 && f.leading.length > 0) {
    const signs = interpretation.unexplained.map(
      (id) => knowledge.findings[id]?.term ?? id.replaceAll("-", " "),
    );
    out.push(
      wrap(`${knowledge.disorders[first.id]?.term ?? first.id} does not explain: ${signs.join(", ")}.`, 2),
    );
  }
  if (f.second) out.push(wrap(`Consider also ${f.second.term}? ${f.second.why}`, 2));
  if (f.unlikely.length > 0) {
    const named = f.unlikely.slice(0, MOST_UNLIKELY).join(", ");
    const more = f.unlikely.length > MOST_UNLIKELY ? ` and ${f.unlikely.length - MOST_UNLIKELY} more` : "";
    out.push(pc.dim(wrap(`Unlikely: ${named}${more}.`, 2)));
  }
  return out;
}

function thinFields({ measures, visit, knowledge }: Told): string[] {
  return measures.measured.flatMap((m) => {
    const needed = m.id === "hair-density" ? fieldsToSeeChange(m, knowledge) : undefined;
    const fields = visit.sites[m.siteIndex ?? -1]?.fields.length ?? 0;
    if (!needed || needed.fields <= fields) return [];
    const percent = Math.round(Math.abs(needed.factor - 1) * 100);
    return [
      `${m.site ?? ""}: ${fields} counted, about ${needed.fields} at each visit would show a change of ${percent} %`,
    ];
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

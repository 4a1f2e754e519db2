/** `whorl catalogue`: lists and explains findings, facts, disorders and scores, with sources, and prints the hazard log. */
import type { Command } from "commander";
import pc from "picocolors";
import { foldWord } from "../base/nearest.js";
import { spellings } from "../knowledge/load.js";
import type { Disorder, Finding, Knowledge } from "../knowledge/schema.js";
import { meantBy } from "../visit/meant.js";
import { explainFact, factListing, hazardLog } from "./catalogue-facts.js";
import { citations, evidenceLines } from "./catalogue-parts.js";
import { EXIT, loadKnowledge } from "./context.js";
import { wrap } from "./wrap.js";

export function catalogueCommand(program: Command, done: (code: number) => void): void {
  program
    .command("catalogue")
    .summary("list or explain findings, facts, disorders and scores; print the hazard log")
    .description(
      "Without words, lists everything Whorl knows. With words, explains one finding, fact, disorder or score, with sources. `hazards` prints the hazard log, `facts` the facts catalogue.",
    )
    .argument("[words...]", "a finding, fact, disorder or score, such as: comma hairs; or hazards, or facts")
    .option("--json", "print the entry, or all knowledge, as JSON")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl catalogue\n  whorl catalogue comma hairs\n  whorl catalogue lichen planopilaris\n  whorl catalogue lppai\n  whorl catalogue hazards",
    )
    .action((given: string[], options: { json?: boolean }) => {
      const knowledge = loadKnowledge();
      const print = (lines: string[]) => process.stdout.write(`${lines.join("\n")}\n`);
      if (given.length === 0) {
        if (options.json) print([JSON.stringify(knowledge, null, 2)]);
        else print(listing(knowledge));
        return;
      }
      const wanted = foldWord(given.join(" "));
      if (wanted === "hazards" || wanted === "facts") {
        if (options.json) print([JSON.stringify(knowledge[wanted], null, 2)]);
        else print(wanted === "hazards" ? hazardLog(knowledge) : factListing(knowledge));
        return;
      }
      const match = (names: ReadonlyMap<string, string>) =>
        [...names].find(([w]) => foldWord(w) === wanted)?.[1];
      const findings = spellings(knowledge.findings);
      const disorders = spellings(knowledge.disorders);
      const scores = new Map(
        Object.values(knowledge.scores).flatMap((s) => [[s.term, s.id] as const, [s.id, s.id] as const]),
      );
      const facts = spellings(knowledge.facts);
      const finding = knowledge.findings[match(findings) ?? ""];
      const disorder = knowledge.disorders[match(disorders) ?? ""];
      const score = knowledge.scores[match(scores) ?? ""];
      const fact = knowledge.facts[match(facts) ?? ""];
      const entry = finding ?? disorder ?? score ?? fact;
      if (!entry) {
        const all = new Map([...findings, ...disorders, ...scores, ...facts]);
        const near = meantBy(given.join(" "), [...all.keys()], (word) => all.get(word));
        process.stderr.write(
          `Nothing called "${given.join(" ")}".${near.length > 0 ? ` Did you mean "${near.join('" or "')}"?` : ""}\n`,
        );
        done(EXIT.usage);
        return;
      }
      if (options.json) print([JSON.stringify(entry, null, 2)]);
      else if (finding) print(explainFinding(finding, knowledge));
      else if (disorder) print(explainDisorder(disorder, knowledge));
      else if (fact) print(explainFact(fact, knowledge));
      else if (score) {
        print([
          pc.bold(score.term),
          wrap(score.about),
          "",
          ...Object.entries(score.inputs).map(([key, i]) => wrap(`${key}  ${i.min}-${i.max}  ${i.says}`, 2)),
          "",
          ...citations(score.source, knowledge),
        ]);
      }
    });
}

function listing(k: Knowledge): string[] {
  const out: string[] = [];
  for (const family of [
    "non-scarring",
    "scarring",
    "infection",
    "infestation",
    "scalp inflammation",
    "hair shaft",
    "tumour",
    "healthy",
  ]) {
    const names = Object.values(k.disorders)
      .filter((d) => d.family === family)
      .map((d) => d.term);
    if (names.length > 0)
      out.push(pc.bold(`Disorders, ${family} (${names.length})`), wrap(names.join(", "), 2), "");
  }
  for (const group of ["hair shaft", "follicular opening", "skin surface", "vessel"]) {
    const names = Object.values(k.findings)
      .filter((f) => f.group === group)
      .map((f) => f.term);
    out.push(pc.bold(`Findings, ${group} (${names.length})`), wrap(names.join(", "), 2), "");
  }
  out.push(...factListing(k));
  out.push(
    pc.bold("Scores"),
    wrap(
      Object.values(k.scores)
        .map((s) => `${s.term} (${s.id})`)
        .join(", "),
      2,
    ),
  );
  return out;
}

function explainFinding(f: Finding, k: Knowledge): string[] {
  const rows = Object.values(k.disorders).flatMap((d) => {
    const best = d.evidence[f.id];
    return best ? [{ term: d.term, rows: best }] : [];
  });
  const cited = new Set<string>();
  return [
    `${pc.bold(f.term)}  ${pc.dim(f.group)}`,
    ...(f.also.length > 0 ? [pc.dim(wrap(`also: ${f.also.join(", ")}`))] : []),
    wrap(f.what),
    ...(f.look ? [wrap(`Look: ${f.look}`)] : []),
    wrap(f.one_alone_counts ? "One alone counts." : "One alone proves little; several are needed."),
    wrap(`To the patient: ${f.plain.name}. ${f.plain.means}`),
    "",
    pc.bold("How often, by disorder"),
    ...rows.flatMap((r) => evidenceLines(r.term, r.rows, cited)),
    ...f.notes.map((n) => {
      cited.add(n.source);
      return wrap(`· ${n.says} [${n.source}]`, 2);
    }),
    "",
    ...citations([...cited].join("; "), k),
  ];
}

function explainDisorder(d: Disorder, k: Knowledge): string[] {
  const cited = new Set<string>();
  const said = (says: string, source: string) => {
    for (const s of source.split(/\s*;\s*/u)) cited.add(s);
    return wrap(`· ${says} [${source}]`, 2);
  };
  const out = [
    `${pc.bold(d.term)}  ${pc.dim(`${d.family}, ICD-10 ${d.icd10.code}`)}`,
    ...(d.also.length > 0 ? [pc.dim(wrap(`also: ${d.also.join(", ")}`))] : []),
    wrap(d.letter.about),
    "",
    pc.bold("Findings reported"),
    ...Object.entries(d.evidence).flatMap(([id, rows]) =>
      evidenceLines(k.findings[id]?.term ?? id, rows, cited),
    ),
  ];
  const part = (title: string, lines: string[]) => {
    if (lines.length > 0) out.push("", pc.bold(title), ...lines);
  };
  part(
    "Named patterns",
    d.patterns.map((p) => said(p.says, p.source)),
  );
  part(
    "Activity",
    d.activity.map((a) => said(`${a.state}: ${a.says}`, a.source)),
  );
  part(
    "Stages",
    d.stages.map((s) => said(`${s.stage}: ${s.says}`, s.source)),
  );
  part(
    "Check next",
    d.next.map((n) => said(`${n.step}: ${n.why}`, n.source)),
  );
  part(
    "Taken for",
    d.mimics.map((m) => said(`${k.disorders[m.disorder]?.term ?? m.disorder}: ${m.tell}`, m.source)),
  );
  part(
    "Pitfalls",
    d.pitfalls.map((p) => said(p.says, p.source)),
  );
  out.push("", ...citations([...cited].join("; "), k));
  return out;
}

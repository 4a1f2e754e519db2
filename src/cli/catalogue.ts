/** `whorl catalogue`: lists and explains findings, disorders and scores, with sources. */
import type { Command } from "commander";
import pc from "picocolors";
import { foldWord } from "../base/nearest.js";
import { nearestSpelling, spellings } from "../knowledge/load.js";
import type { Disorder, EvidenceRow, Finding, Knowledge } from "../knowledge/schema.js";
import { EXIT, loadKnowledge } from "./context.js";
import { wrap } from "./wrap.js";

export function catalogueCommand(program: Command, done: (code: number) => void): void {
  program
    .command("catalogue")
    .summary("list or explain findings, disorders and scores")
    .description(
      "Without words, lists everything Whorl knows. With words, explains one finding, disorder or score, with sources.",
    )
    .argument("[words...]", "a finding, disorder or score, such as: comma hairs")
    .option("--json", "print the entry, or all knowledge, as JSON")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl catalogue\n  whorl catalogue comma hairs\n  whorl catalogue lichen planopilaris\n  whorl catalogue lppai",
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
      const match = (names: ReadonlyMap<string, string>) =>
        [...names].find(([w]) => foldWord(w) === wanted)?.[1];
      const findings = spellings(knowledge.findings);
      const disorders = spellings(knowledge.disorders);
      const scores = new Map(
        Object.values(knowledge.scores).flatMap((s) => [[s.term, s.id] as const, [s.id, s.id] as const]),
      );
      const finding = knowledge.findings[match(findings) ?? ""];
      const disorder = knowledge.disorders[match(disorders) ?? ""];
      const score = knowledge.scores[match(scores) ?? ""];
      const entry = finding ?? disorder ?? score;
      if (!entry) {
        const near = nearestSpelling(given.join(" "), new Map([...findings, ...disorders, ...scores]));
        process.stderr.write(
          `Nothing called "${given.join(" ")}".${near.length > 0 ? ` Did you mean "${near.join('" or "')}"?` : ""}\n`,
        );
        done(EXIT.usage);
        return;
      }
      if (options.json) print([JSON.stringify(entry, null, 2)]);
      else if (finding) print(explainFinding(finding, knowledge));
      else if (disorder) print(explainDisorder(disorder, knowledge));
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

function evidenceLines(term: string, rows: readonly EvidenceRow[], cited: Set<string>): string[] {
  return rows.map((row) => {
    cited.add(row.source);
    return wrap(
      `${term}: ${figure(row)}${row.subgroup ? `, ${row.subgroup}` : ""}${row.unit ? `, ${row.unit}` : ""} [${row.source}${row.how === "memory" ? ", from memory" : ""}]`,
      2,
    );
  });
}

function figure(row: EvidenceRow): string {
  if (row.positive !== undefined && row.of !== undefined) {
    return `${row.positive} of ${row.of} (${((100 * row.positive) / row.of).toFixed(0)} %)`;
  }
  if (row.percent !== undefined)
    return `${row.percent} %${row.range ? ` (studies ${row.range[0]} to ${row.range[1]} %)` : ""}`;
  if (row.range) return `${row.range[0]} to ${row.range[1]} %`;
  return `${row.frequency ?? ""} (a word, no number printed)`;
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

function citations(source: string, k: Knowledge): string[] {
  const ids = [...new Set(source.split(/\s*;\s*/u))].filter((id) => k.sources[id]);
  if (ids.length === 0) return [];
  return [pc.bold("Sources"), ...ids.map((id) => wrap(`[${id}] ${k.sources[id]?.citation ?? ""}`, 2))];
}

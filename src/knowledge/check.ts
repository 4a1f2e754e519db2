/** What no schema can see: unknown ids, missing sources, impossible counts, one spelling for two things. */

import { foldWord, nearestWords } from "../base/nearest.js";
import type { Problem } from "../base/problem.js";
import type { KNOWLEDGE_PROBLEMS } from "../base/problem-table.js";
import { type KeyPath, writePath, type YamlSource } from "../base/yaml-source.js";
import type { Condition } from "./condition.js";
import { type EvidenceRow, type Knowledge, UNSOURCED } from "./schema.js";

/** Checks ids, sources and counts across all files; `opened` gives the places. */
export function checkKnowledge(k: Knowledge, opened: Readonly<Record<string, YamlSource>>): Problem[] {
  const problems: Problem[] = [];
  const cited = new Set<string>();
  const report = (
    file: string,
    path: KeyPath,
    id: keyof typeof KNOWLEDGE_PROBLEMS,
    message: string,
    suggestion?: string,
  ) => {
    const source = opened[file];
    problems.push({
      severity: id === "unused-source" ? "warning" : "error",
      id,
      message,
      file: source?.file ?? file,
      path: writePath(path),
      ...(source?.place(path) ?? {}),
      ...(suggestion ? { suggestion } : {}),
    });
  };
  const known = (file: string, path: KeyPath, word: string, valid: readonly string[], what: string) => {
    if (valid.includes(word)) return;
    const near = nearestWords(word, valid)[0];
    report(file, path, "unknown-id", `unknown ${what} "${word}"`, near);
  };
  const findings = Object.keys(k.findings);
  const disorders = Object.keys(k.disorders);
  const families = [...new Set(Object.values(k.disorders).map((d) => `family:${d.family}`))];
  const cautions = Object.keys(k.cautions);
  const facts = Object.keys(k.facts);
  const codeLists = Object.keys(k.openCodes.lists);
  const lines = Object.values(k.cautions).flatMap((c) => c.must_not_miss?.id ?? []);
  const hazards = Object.keys(k.hazards);

  const checkSource = (file: string, path: KeyPath, source: string) => {
    for (const one of source.split(/\s*;\s*/u)) {
      if ((UNSOURCED as readonly string[]).includes(one)) continue;
      cited.add(one);
      if (!k.sources[one])
        report(
          file,
          path,
          "unknown-source",
          `unknown source "${one}"`,
          nearestWords(one, Object.keys(k.sources))[0],
        );
    }
  };
  /** Every key named `source` anywhere below. */
  const checkSources = (file: string, value: unknown, path: KeyPath) => {
    if (Array.isArray(value)) {
      for (const [i, v] of value.entries()) checkSources(file, v, [...path, i]);
    } else if (value && typeof value === "object") {
      for (const [key, v] of Object.entries(value)) {
        if (key === "source" && typeof v === "string") checkSource(file, [...path, key], v);
        else checkSources(file, v, [...path, key]);
      }
    }
  };
  const checkRows = (file: string, path: KeyPath, rows: readonly EvidenceRow[]) => {
    rows.forEach((row, i) => {
      const here = [...path, i];
      if (row.positive !== undefined && row.of !== undefined && row.positive > row.of) {
        report(file, here, "impossible-count", `${row.positive} of ${row.of}`);
      }
      const kinds = [
        row.positive !== undefined && row.of !== undefined,
        row.positive === undefined && row.percent !== undefined,
        row.frequency !== undefined,
      ].filter(Boolean).length;
      const rangeAlone = row.range !== undefined && row.percent === undefined && row.positive === undefined;
      if (kinds + (rangeAlone ? 1 : 0) !== 1)
        report(
          file,
          here,
          "evidence-shape",
          "give exactly one of: positive and of; percent; range; frequency",
        );
      if (k.sources[row.source]?.access === "memory" && row.how !== "memory") {
        report(file, here, "promoted-memory", `${row.source} was never seen, so the row is from memory`);
      }
    });
  };
  const checkCondition = (file: string, path: KeyPath, c: Condition) => {
    const each = (list: Condition[], key: string) => {
      list.forEach((x, i) => {
        checkCondition(file, [...path, key, i], x);
      });
    };
    const ids = (v: string | string[], key: string, valid: readonly string[], what: string) => {
      for (const word of Array.isArray(v) ? v : [v]) known(file, [...path, key], word, valid, what);
    };
    if ("all" in c) each(c.all, "all");
    else if ("any" in c) each(c.any, "any");
    else if ("of" in c) each(c.of, "of");
    else if ("not" in c) checkCondition(file, [...path, "not"], c.not);
    else if ("at_one_site" in c) checkCondition(file, [...path, "at_one_site"], c.at_one_site);
    else if ("finding" in c) ids(c.finding, "finding", findings, "finding");
    else if ("absent" in c) ids(c.absent, "absent", findings, "finding");
    else if ("not_assessed" in c) ids(c.not_assessed, "not_assessed", findings, "finding");
    else if ("impression" in c) ids(c.impression, "impression", [...disorders, ...families], "disorder");
    else if ("fact" in c) ids(c.fact, "fact", facts, "fact");
    else if ("not_asked" in c) ids(c.not_asked, "not_asked", facts, "fact");
    else if ("tested" in c) ids(c.tested, "tested", Object.keys(k.tests), "test");
    else if ("arranged" in c) ids(c.arranged, "arranged", Object.keys(k.tests), "test");
    else if ("line_open" in c) ids(c.line_open, "line_open", lines, "must-not-miss line");
    else if ("plan_answers" in c) ids(c.plan_answers, "plan_answers", lines, "must-not-miss line");
    else if ("band" in c) ids(c.band, "band", [...disorders, ...families], "disorder");
  };

  for (const d of Object.values(k.disorders)) {
    const file = `disorders/${d.id}.yaml`;
    checkSources(file, d, []);
    for (const [finding, rows] of Object.entries(d.evidence)) {
      known(file, ["evidence", finding], finding, findings, "finding");
      checkRows(file, ["evidence", finding], rows);
    }
    for (const part of ["patterns", "activity", "stages"] as const) {
      d[part].forEach((p, i) => {
        checkCondition(file, [part, i, "when"], p.when);
      });
    }
    d.mimics.forEach((m, i) => {
      known(file, ["mimics", i, "disorder"], m.disorder, disorders, "disorder");
    });
    d.pitfalls.forEach((p, i) => {
      if (p.finding) known(file, ["pitfalls", i, "finding"], p.finding, findings, "finding");
    });
    d.cautions.forEach((c, i) => {
      known(file, ["cautions", i], c, cautions, "caution");
    });
  }
  for (const f of Object.values(k.facts)) {
    const file = `facts/${f.id}.yaml`;
    checkSources(file, f, []);
    for (const [disorder, rows] of Object.entries(f.evidence)) {
      known(file, ["evidence", disorder], disorder, disorders, "disorder");
      checkRows(file, ["evidence", disorder], rows);
    }
    f.hazards.forEach((h, i) => {
      known(file, ["hazards", i], h, hazards, "hazard");
    });
    for (const [clue, list] of Object.entries(f.hinted)) {
      for (const written of list.filter((w) => w.startsWith("#")))
        known(file, ["hinted", clue], written.slice(1), facts, "fact");
    }
    if (Object.keys(f.hinted).length === 1)
      report(file, ["hinted"], "fact-shape", "clues need two kinds or more: one alone says nothing");
    if (f.called_for) checkCondition(file, ["called_for", "when"], f.called_for.when);
    if (f.kind === "red flag" && !(f.question && f.urgency && f.who))
      report(file, [], "fact-shape", "a red flag needs a question, an urgency and who must act");
    if (f.kind === "history" && !f.question)
      report(file, [], "fact-shape", "a fact of the history needs the question that it answers");
  }
  for (const h of Object.values(k.hazards)) checkSources(`hazards/${h.id}.yaml`, h, []);
  for (const [id, code] of Object.entries(k.icd10cm)) {
    checkSources("icd-10-cm.yaml", code, [id]);
    known("icd-10-cm.yaml", [], id, disorders, "disorder");
  }
  for (const [name, list] of Object.entries(k.openCodes.lists))
    checkSources("open-codes.yaml", list, ["lists", name]);
  for (const [part, ids] of [
    ["findings", findings],
    ["disorders", disorders],
  ] as const)
    for (const [id, code] of Object.entries(k.openCodes[part])) {
      known("open-codes.yaml", [part, id], id, ids, part.slice(0, -1));
      known("open-codes.yaml", [part, id, "list"], code.list, codeLists, "list of codes");
    }
  for (const [name, m] of Object.entries(k.medicines)) {
    checkSources("medicines.yaml", m, [name]);
    m.classes.forEach((c, i) => {
      const here = ["medicines.yaml", [name, "classes", i]] as const;
      known(...here, c, facts, "fact");
      if (k.facts[c] && k.facts[c].kind !== "medicine class")
        report(...here, "fact-shape", `${c} is no medicine class`);
    });
  }
  for (const f of Object.values(k.findings)) checkSources(`findings/${f.id}.yaml`, f, []);
  for (const s of Object.values(k.scores)) checkSources(`scores/${s.id}.yaml`, s, []);
  for (const [name, normals] of Object.entries(k.normals)) checkSources(`normals/${name}.yaml`, normals, []);
  for (const c of Object.values(k.cautions)) {
    const file = `cautions/${c.id}.yaml`;
    checkSources(file, c, []);
    if (c.when) checkCondition(file, ["when"], c.when);
    const line = c.must_not_miss;
    if (line?.tested) checkCondition(file, ["must_not_miss", "tested"], line.tested);
    line?.faster.forEach((f, i) => {
      checkCondition(file, ["must_not_miss", "faster", i, "when"], f.when);
    });
    line?.answers.forEach((f, i) => {
      known(file, ["must_not_miss", "answers", i], f, facts, "fact");
    });
    if (c.contradicted_by) checkCondition(file, ["contradicted_by", "when"], c.contradicted_by.when);
  }
  k.context.forEach((rule) => {
    const file =
      Object.keys(opened).find(
        (f) => f.startsWith("context/") && opened[f]?.lines.some((l) => l.includes(rule.id)),
      ) ?? "context";
    checkSources(file, rule, []);
    checkCondition(file, [], rule.when);
    for (const target of Object.keys(rule.shifts))
      known(file, [], target, [...disorders, ...families], "disorder or family");
  });
  for (const [finding, rows] of Object.entries(k.healthy)) {
    known("healthy.yaml", [finding], finding, findings, "finding");
    checkRows("healthy.yaml", [finding], rows);
    rows.forEach((row, i) => {
      checkSource("healthy.yaml", [finding, i, "source"], row.source);
    });
  }
  for (const [kind, ids] of [
    ["findings", findings],
    ["facts", facts],
  ] as const) {
    for (const [id, states] of Object.entries(k.lessons[kind])) {
      known("lessons.yaml", [kind, id], id, ids, kind === "findings" ? "finding" : "fact");
      for (const [state, moved] of Object.entries(states)) {
        for (const disorder of Object.keys(moved ?? {}))
          known("lessons.yaml", [kind, id, state, disorder], disorder, disorders, "disorder");
      }
    }
  }
  k.weighing.subgroups.forEach((s, i) => {
    checkCondition("weighing.yaml", ["subgroups", i, "when"], s.when);
  });
  for (const kind of ["findings", "disorders", "facts"] as const) {
    const owner = new Map<string, string>();
    for (const entry of Object.values(k[kind])) {
      for (const word of new Set([entry.term, entry.id, ...entry.also].map(foldWord))) {
        const other = owner.get(word);
        if (other && other !== entry.id)
          report(`${kind}/${entry.id}.yaml`, ["also"], "same-spelling", `"${word}" also means ${other}`);
        owner.set(word, entry.id);
      }
    }
  }
  for (const [id, source] of Object.entries(k.sources)) {
    source.covers?.forEach((covered, i) => {
      known("sources.yaml", [id, "covers", i], covered, Object.keys(k.sources), "source");
    });
    if (!cited.has(id)) report("sources.yaml", [id], "unused-source", `nothing cites "${id}"`);
  }
  return problems;
}

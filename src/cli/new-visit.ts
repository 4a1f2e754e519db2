/** `whorl new visit`: a visit file to fill in, from nothing, from the visit before, by questions, or from a table. */

import type { Command } from "commander";
import type { FindingId } from "../base/ids.js";
import { ClinicFiles } from "../clinic-folder/clinic-file.js";
import { followUpDraft, type VisitDraft, visitSkeleton } from "../exchange/exchange.js";
import type { Disorder, Knowledge } from "../knowledge/schema.js";
import type { Clinic } from "../visit/clinic.js";
import { heldImpressions } from "../visit/held.js";
import { readVisit } from "../visit/read.js";
import type { Visit } from "../visit/visit.js";
import { visitWords } from "../visit/visit-words.js";
import { EXIT, loadKnowledge, today } from "./context.js";
import { askVisit } from "./new-ask.js";
import { deliver, isTaken, schemaPlace } from "./new-file.js";
import { newFromTable } from "./new-table.js";
import { wordsGiven } from "./new-words.js";
import { showProblems } from "./show-problems.js";

interface NewVisitOptions {
  readonly sites: string[];
  readonly suspect: string[];
  readonly findings: FindingId[];
  readonly fromPrevious?: string;
  readonly from?: string;
  readonly map?: string;
  readonly preview?: boolean;
  readonly interactive?: boolean;
  readonly clinic?: string;
  readonly date?: string;
  readonly out?: string;
}

export function newVisitCommand(parent: Command, done: (code: number) => void): void {
  parent
    .command("visit")
    .summary("start a visit file, or make visit files from a table")
    .description(
      "Writes a commented visit file with the sites and findings asked for. --suspect lists what to look for in a disorder\nand in what it is taken for; --from-previous carries identity, recipients and sites over and asks again for what was\nfound; --from makes one visit file for each visit of a table (CSV, .xlsx), by a mapping file.",
    )
    .option("-s, --sites <region...>", "regions of the scalp, such as 'left parietal, occipital'", [])
    .option("--suspect <disorder...>", "disorders to look for, with their mimics", [])
    .option("--findings <finding...>", "findings to ask for", [])
    .option("--from-previous <file>", "the visit file of the visit before")
    .option("-i, --interactive", "ask in the terminal and fill in the answers")
    .option("--from <table>", "make visits from a CSV export or .xlsx workbook; --out then names a folder")
    .option("--map <file>", "with --from: how the columns become a visit")
    .option("--preview", "with --from: show what would be written, and write nothing")
    .option("--clinic <file>", "clinic file (default: clinic.yaml beside the new file or above it)")
    .option("--date <day>", "day of the visit as year-month-day (default: today)")
    .option("-o, --out <file>", "file to write (default: printed)")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl new visit --sites 'left parietal, occipital' --out visit.yaml\n  whorl new visit --suspect 'alopecia areata' --out patients/TS-40417/2026-03-12.yaml\n  whorl new visit --from-previous patients/TS-40417/2026-03-12.yaml --out patients/TS-40417/2026-06-04.yaml\n  whorl new visit --interactive --out visit.yaml\n  whorl new visit --from export.csv --map mapping.yaml --preview",
    )
    .action(async (options: NewVisitOptions) => {
      done(await newVisit(options));
    });
}

async function newVisit(options: NewVisitOptions): Promise<number> {
  const fault = wrongUse(options);
  if (fault) {
    process.stderr.write(`${fault}\n`);
    return EXIT.usage;
  }
  const knowledge = loadKnowledge();
  if (options.from !== undefined && options.map !== undefined) {
    return newFromTable(
      { from: options.from, map: options.map, out: options.out, preview: options.preview },
      knowledge,
    );
  }
  if (options.out !== undefined && isTaken(options.out)) return EXIT.input;
  const words = visitWords(knowledge);
  const sites = wordsGiven(options.sites, words.regions);
  const suspect = wordsGiven(options.suspect, words.disorders);
  const findings = wordsGiven(options.findings, words.findings);
  if (!sites || !suspect || !findings) return EXIT.usage;
  const start = startOf(options, sites, knowledge);
  if (!start) return EXIT.input;
  const clinic = clinicOf(options);
  const disorders = [...new Set([...suspect, ...start.suspect])].flatMap(
    (id) => knowledge.disorders[id] ?? [],
  );
  const { ref } = schemaPlace("visit", options.out);
  const skeleton = (draft: VisitDraft, looked: readonly Disorder[]) =>
    visitSkeleton(draft, {
      knowledge,
      suspect: looked,
      findings,
      schemaRef: ref,
      people: clinic ? Object.keys(clinic.people) : [],
    });
  if (!options.interactive) return deliver("visit", skeleton(start.draft, disorders), options.out);
  // The prompts are loaded only when they are used, since every other command would wait for them.
  const { terminalAsker } = await import("./new-terminal.js");
  const asked = await askVisit(terminalAsker, start.draft, {
    knowledge,
    clinic,
    suspect: disorders,
    findings,
  });
  if (!asked) {
    process.stderr.write("Stopped; nothing was written.\n");
    return EXIT.input;
  }
  return deliver("visit", skeleton(asked.draft, asked.suspect), options.out);
}

function wrongUse(options: NewVisitOptions): string | undefined {
  if (options.from !== undefined && options.map === undefined)
    return "A table needs a mapping file that says what its columns are: --map FILE.";
  if (options.from === undefined && (options.map !== undefined || options.preview))
    return "--map and --preview belong to --from TABLE.";
  if (options.from !== undefined && (options.interactive || options.fromPrevious !== undefined))
    return "--from makes visits from a table; it goes with neither --interactive nor --from-previous.";
  if (options.from !== undefined && options.out === undefined && !options.preview)
    return "A table makes many files: name their folder with --out, or look first with --preview.";
  if (options.date !== undefined && !/^\d{4}-\d{2}-\d{2}$/u.test(options.date))
    return `"${options.date}" is not a day as year-month-day, such as 2026-03-12.`;
  if (options.interactive && !process.stdin.isTTY)
    return "--interactive asks questions and needs a terminal; without it the file is written to be filled in.";
  return undefined;
}

/** The draft, and for a follow-up the disorders recorded last time; undefined, and said so, when that visit cannot be read. */
function startOf(
  options: NewVisitOptions,
  sites: Visit["sites"][number]["site"][],
  knowledge: Knowledge,
): { draft: VisitDraft; suspect: string[] } | undefined {
  const date = options.date ?? today();
  const asked = sites.map((site) => ({ site }));
  if (options.fromPrevious === undefined) return { draft: { date, sites: asked }, suspect: [] };
  const { value, problems } = readVisit(options.fromPrevious, knowledge);
  if (!value) {
    process.stderr.write(`${showProblems(problems)}\n`);
    return undefined;
  }
  const draft = followUpDraft(value, date);
  const known = new Set(draft.sites.map((s) => s.site));
  const recorded = heldImpressions(value).map((i) => i.disorder);
  return {
    draft: { ...draft, sites: [...draft.sites, ...asked.filter((s) => !known.has(s.site))] },
    suspect: recorded,
  };
}

function clinicOf(options: NewVisitOptions): Clinic | undefined {
  return new ClinicFiles(options.clinic).of(options.out ?? "visit.yaml").clinic;
}

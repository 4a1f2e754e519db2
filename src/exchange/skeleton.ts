/** A visit draft -> a commented visit file to fill in: every key says what it takes, and what is left empty claims nothing. */
import type { FindingId } from "../base/ids.js";
import type { Disorder, Knowledge } from "../knowledge/schema.js";
import { visitJsonSchema } from "../visit/json-schema.js";
import { camelCase, type Keys } from "../visit/key.js";
import { examinationKeys, historyKeys } from "../visit/keys/history.js";
import { SCOPE_KEYS } from "../visit/keys/site.js";
import type { Recipient } from "../visit/visit.js";
import { NO_WORDS } from "../visit/visit-words.js";
import type { VisitDraft } from "./draft.js";
import type { Hint } from "./hint.js";
import { firstLook, type LookGroup, lookFor } from "./look-for.js";
import { type Json, placeAt } from "./schema-place.js";
import { skeletonSites } from "./skeleton-sites.js";
import { inline, line, remark, withComment } from "./yaml-line.js";

export interface SkeletonOptions {
  readonly knowledge: Knowledge;
  /** Disorders whose findings, and those of their mimics, are asked for. */
  readonly suspect?: readonly Disorder[];
  /** Finding ids to ask for instead of the first look. */
  readonly findings?: readonly FindingId[];
  /** Where the JSON Schema stands, as written in the editor line. */
  readonly schemaRef?: string;
  /** Keys of the clinic's people, for the remark beside seen_by. */
  readonly people?: readonly string[];
}

/** More words than this are better looked up than listed. */
const MOST_WORDS = 8;

/** The text of a visit file that asks for what `draft` does not know yet. */
export function visitSkeleton(draft: VisitDraft, options: SkeletonOptions): string {
  const schema = visitJsonSchema(options.knowledge);
  const hint = (...path: (string | number)[]) => hintAt(schema, path);
  const groups = groupsToAsk(options);
  return [
    ...(options.schemaRef ? [`# yaml-language-server: $schema=${options.schemaRef}`] : []),
    ...opening(draft),
    line(0, "format", 1),
    ...visitLines(draft, options, hint),
    ...patientLines(draft, hint),
    ...recipientLines(draft),
    ...historyLines(draft, options, hint),
    ...examinationLines(options, hint),
    "",
    ...scopeLines(draft, hint),
    "",
    ...skeletonSites(draft.sites, groups, options.knowledge, hint),
    ...closing(draft, options, hint),
    "",
  ].join("\n");
}

/** The words a place takes when they are few; else the sentence on it. */
function hintAt(schema: Json, path: readonly (string | number)[]): string {
  const place = placeAt(schema, path);
  if (!place) throw new Error(`no such place in a visit file: ${path.join(".")}`);
  const few = place.words.length > 0 && place.words.length <= MOST_WORDS;
  return few ? place.words.join(", ") : place.says.replace(/\.$/u, "");
}

function groupsToAsk({ suspect = [], findings = [], knowledge }: SkeletonOptions): LookGroup[] {
  const named: LookGroup[] = findings.length > 0 ? [{ heading: "asked for", why: "", findings }] : [];
  if (suspect.length > 0) return [...named, ...suspect.flatMap((d) => lookFor(d, knowledge))];
  return named.length > 0 ? named : firstLook(knowledge);
}

function opening(draft: VisitDraft): string[] {
  const follows = draft.follows ? ` It follows ${draft.follows.id} of ${draft.follows.date}.` : "";
  return [
    ...remark(
      0,
      `One visit, to be filled in.${follows} A key left empty says nothing; a finding left empty was not assessed.`,
    ),
    ...remark(0, "Lines that begin with # are not read. Then: whorl check FILE, and whorl letter FILE."),
    "",
  ];
}

function visitLines(draft: VisitDraft, options: SkeletonOptions, hint: Hint): string[] {
  const people = options.people?.length ? `one of ${options.people.join(", ")}` : hint("visit", "seen_by");
  return [
    line(0, "visit"),
    line(2, "id", draft.id, hint("visit", "id")),
    line(2, "date", draft.date, hint("visit", "date")),
    line(2, "status", "draft", "signed once it may leave the clinic"),
    line(2, "seen_by", draft.seenBy, people),
    line(2, "reason", draft.reason, hint("visit", "reason")),
    "",
  ];
}

function patientLines({ patient = {} }: VisitDraft, hint: Hint): string[] {
  const { name = {} } = patient;
  const of = (...path: string[]) => hint("patient", ...path);
  const optional = (key: string, value: unknown, says: string) =>
    value === undefined ? withComment(`  # ${key}:`, says) : line(2, key, value, says);
  return [
    line(0, "patient"),
    line(2, "id", patient.id, of("id")),
    line(2, "name"),
    line(4, "title", name.title, of("name", "title")),
    line(4, "given", name.given, of("name", "given")),
    line(4, "family", name.family, of("name", "family")),
    line(2, "born", patient.born, of("born")),
    line(2, "sex", patient.sex, of("sex")),
    line(2, "phototype", patient.phototype, of("phototype")),
    optional("ancestry", patient.ancestry, of("ancestry")),
    withComment("  # pregnancy:", of("pregnancy")),
    line(2, "address", someOf(patient.address), "[first line, second line, town, code]"),
    line(2, "language", patient.language ?? "en-GB", of("language")),
    line(2, "large_print", patient.largePrint ?? false, of("large_print")),
    "",
  ];
}

const someOf = (list: readonly string[] | undefined) => (list && list.length > 0 ? list : undefined);

function recipientLines({ sendTo = [] }: VisitDraft): string[] {
  const all: readonly Partial<Recipient>[] = sendTo.length > 0 ? sendTo : [{ role: "general practitioner" }];
  return [
    withComment("send_to:", "who receives the letter; one entry each"),
    ...all.flatMap((to) => [
      line(2, "- role", to.role, "general practitioner, parent, school nurse, ..."),
      line(4, "name", to.name, "with title, as on the envelope"),
      line(4, "address", someOf(to.address), "[first line, second line, town, code]"),
      ...(to.copy ? [line(4, "copy", true, "only gets a copy")] : []),
      ...(to.purpose ? [line(4, "purpose", to.purpose)] : []),
    ]),
    "",
  ];
}

/** The keys of a map, one line each, in the order of their table: a new key is asked for without a word here. */
function keyLines(keys: Keys, at: readonly string[], hint: Hint, seen: Seen = {}): string[] {
  return Object.entries(keys).flatMap(([name, key]): string[] => {
    const path = [...at, name];
    const says = hint(...path);
    const indent = 2 * at.length;
    if (key.keys && !key.entries) {
      if (key.mode === "given") return [line(indent, name), ...keyLines(key.keys, path, hint)];
      const inner = Object.keys(key.keys).map((inner) => `${inner}: `);
      return [withComment(`${" ".repeat(indent)}# ${name}: { ${inner.join(", ")}}`, says)];
    }
    const before = seen.before?.[name] ?? [];
    return [
      ...(before.length > 0 ? [`${" ".repeat(indent)}# last time: ${inline(before)}`] : []),
      line(indent, name, seen.now?.[camelCase(name)], key.oneLine === true ? `[one, two]  ${says}` : says),
    ];
  });
}

interface Seen {
  readonly now?: Readonly<Record<string, unknown>>;
  readonly before?: Readonly<Record<string, readonly string[] | undefined>>;
}

function historyLines(draft: VisitDraft, options: SkeletonOptions, hint: Hint): string[] {
  return [
    line(0, "history"),
    ...stepsOf(options, "history", 2),
    ...keyLines(historyKeys(NO_WORDS), ["history"], hint, { before: { ...draft.historyBefore } }),
    "",
  ];
}

function examinationLines(options: SkeletonOptions, hint: Hint): string[] {
  return [
    withComment("examination:", "what is left empty was not examined"),
    ...stepsOf(options, "examination", 2),
    ...keyLines(examinationKeys(NO_WORDS), ["examination"], hint),
    "",
    ...remark(0, "pull_test: [{ site: vertex, pulled: 60, came_out: 3, anagen: 0 }]"),
  ];
}

const scopeLines = ({ scope = {} }: VisitDraft, hint: Hint): string[] => [
  line(0, "scope"),
  ...keyLines(SCOPE_KEYS, ["scope"], hint, { now: { ...scope } }),
];

function closing(draft: VisitDraft, options: SkeletonOptions, hint: Hint): string[] {
  const impression = draft.impression ?? [];
  return [
    "",
    withComment("# extent: { top: , left: , right: , back: }", "percent of hair lost in each area"),
    "",
    withComment("tests:", "done or awaited"),
    ...stepsOf(options, "test", 2),
    ...remark(
      2,
      "- { name: ferritin, value: 41, unit: ug/L, date: 2026-03-02, range: { low: 15, high: 150 } }",
    ),
    ...remark(2, "- { name: fungal culture, result: awaited }"),
    "",
    withComment("impression:", `yours; certainty is one of ${hint("impression", 0, "certainty")}`),
    ...(impression.length > 0
      ? impression.map(({ disorder, certainty }) => {
          const term = options.knowledge.disorders[disorder]?.term ?? disorder;
          return `  - ${inline({ disorder: term, certainty })}`;
        })
      : remark(2, "- { disorder: alopecia areata, certainty: probable, note: a sentence }")),
    "",
    withComment("plan:", "who does what, by when"),
    ...remark(
      2,
      "- { who: general practitioner, action: Please check thyroid function., when: within 4 weeks }",
    ),
    ...remark(2, "- { who: patient, action: Take a photo of the patch once a month. }"),
    ...remark(
      2,
      "Also: by (a day), urgency (now, same day, days, soon), answers ([must-not-miss id]), declined (yes).",
    ),
    "",
    line(0, "told", undefined, hint("told")),
    ...(draft.followUpWeeks === undefined
      ? [withComment("# follow_up: { weeks: 12 }", "weeks until the next visit")]
      : [line(0, "follow_up", { weeks: draft.followUpWeeks })]),
  ];
}

/** Further steps that the knowledge names for the suspected disorders, as remarks. */
function stepsOf(
  { suspect = [] }: SkeletonOptions,
  kind: Disorder["next"][number]["kind"],
  indent: number,
): string[] {
  const steps = suspect.flatMap((d) => d.next.filter((n) => n.kind === kind).map((n) => n.step));
  return [...new Set(steps)].flatMap((step) => remark(indent, `- ${step}`));
}

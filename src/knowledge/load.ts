/** Reads the knowledge folder into one checked value. Uses the compiled copy when it matches the files, for speed. */
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import { z } from "zod";
import { looksOf, readBuilt } from "../base/built.js";
import { hasError, type Outcome, type Problem } from "../base/problem.js";
import { inPackage } from "../base/root.js";
import { openYaml, problemsFromIssues, type YamlSource } from "../base/yaml-source.js";
import { checkKnowledge } from "./check.js";
import { closingTestSchema, factSchema, hazardSchema, medicineSchema } from "./facts-schema.js";
import { LANGUAGE_FILES, type LanguageTexts } from "./language-schema.js";
import { lessonsSchema, NO_LESSONS } from "./lessons-schema.js";
import { NO_OPEN_CODES, openCodesSchema } from "./open-codes.js";
import { type Prose, proseSchema } from "./prose-schema.js";
import {
  cautionSchema,
  contextRuleSchema,
  disorderSchema,
  evidenceRowSchema,
  findingSchema,
  glossarySchema,
  type Knowledge,
  listedCodeSchema,
  regionSchema,
  scoreSchema,
  sourceSchema,
} from "./schema.js";
import { NO_TOLD, toldSchema } from "./told-schema.js";
import { type Weighing, weighingSchema } from "./weighing-schema.js";

/** The folder shipped with the package. */
export const knowledgeFolder: string = inPackage("src", "knowledge");
const compiledFile = inPackage("dist", "knowledge.json");
const LANGUAGES = "languages";
/** Where the build leaves the checked texts of a language. */
export function compiledLanguageFile(language: string): string {
  return inPackage("dist", `knowledge.${language}.json`);
}

/** Folders whose files are one entry each, with the schema of an entry. */
const FOLDERS = {
  findings: findingSchema,
  disorders: disorderSchema,
  facts: factSchema,
  hazards: hazardSchema,
  cautions: cautionSchema,
  scores: scoreSchema,
} as const;

const SINGLE_FILES = {
  sources: z.record(z.string(), sourceSchema),
  regions: z.record(z.string(), regionSchema),
  glossary: glossarySchema,
  medicines: z.record(z.string(), medicineSchema),
  tests: z.record(z.string(), closingTestSchema),
  "icd-10-cm": z.record(z.string(), listedCodeSchema),
  "open-codes": openCodesSchema,
  prose: proseSchema,
  healthy: z.record(z.string(), z.array(evidenceRowSchema)),
  "frequency-words": z.record(z.string(), z.tuple([z.number(), z.number()])),
  weighing: weighingSchema,
  lessons: lessonsSchema,
  told: toldSchema,
} as const;

let shipped: Knowledge | undefined;

/**
 * The knowledge shipped with the package, or the one in `folder`. Throws only for the shipped files, where a problem is a
 * bug of ours; use `readKnowledge` to get problems with places.
 */
export function loadKnowledge(folder: string = knowledgeFolder): Knowledge {
  if (folder === knowledgeFolder && shipped) return shipped;
  const outcome = readCompiled(folder) ?? readKnowledge(folder);
  if (!outcome.value || hasError(outcome.problems)) {
    const first = outcome.problems[0];
    throw new Error(`knowledge files: ${first?.file}:${first?.line}:${first?.column} ${first?.message}`);
  }
  if (folder === knowledgeFolder) shipped = outcome.value;
  return outcome.value;
}

/** Reads and checks every file of a knowledge folder; all problems in one go, each with its place. */
export function readKnowledge(folder: string = knowledgeFolder): Outcome<Knowledge> {
  const problems: Problem[] = [];
  const opened: Record<string, YamlSource> = {};
  const read = <T>(file: string, schema: z.ZodType<T>): T | undefined => {
    const { source, problems: found } = openYaml(
      readFileSync(join(folder, file), "utf8"),
      join(folder, file),
    );
    problems.push(...found);
    if (!source) return undefined;
    opened[file] = source;
    const parsed = schema.safeParse(source.value ?? {});
    if (parsed.success) return parsed.data;
    problems.push(...problemsFromIssues(source, parsed.error.issues));
    return undefined;
  };
  const readFolder = <T extends object>(
    name: string,
    schema: z.ZodType<T>,
  ): Record<string, T & { id: string }> => {
    const entries: Record<string, T & { id: string }> = {};
    for (const file of yamlFiles(join(folder, name))) {
      const entry = read(join(name, file), schema);
      const id = basename(file, ".yaml");
      if (entry) entries[id] = { ...entry, id };
    }
    return entries;
  };
  const readSingle = <T>(name: keyof typeof SINGLE_FILES, schema: z.ZodType<T>): T | undefined =>
    existsSync(join(folder, `${name}.yaml`)) ? read(`${name}.yaml`, schema) : undefined;
  const context = yamlFiles(join(folder, "context")).flatMap(
    (file) => read(join("context", file), z.array(contextRuleSchema)) ?? [],
  );
  const normals: Record<string, unknown> = {};
  for (const file of yamlFiles(join(folder, "normals"))) {
    normals[basename(file, ".yaml")] = read(join("normals", file), z.unknown());
  }
  const weighing = readSingle("weighing", weighingSchema) ?? shippedWeighing(folder);
  const prose = readSingle("prose", proseSchema) ?? shippedProse(folder);
  if (!weighing || !prose) return { problems };
  const value: Knowledge = {
    sources: readSingle("sources", SINGLE_FILES.sources) ?? {},
    findings: readFolder("findings", FOLDERS.findings),
    disorders: readFolder("disorders", FOLDERS.disorders),
    facts: readFolder("facts", FOLDERS.facts),
    hazards: readFolder("hazards", FOLDERS.hazards),
    medicines: readSingle("medicines", SINGLE_FILES.medicines) ?? {},
    tests: readSingle("tests", SINGLE_FILES.tests) ?? {},
    icd10cm: readSingle("icd-10-cm", SINGLE_FILES["icd-10-cm"]) ?? {},
    openCodes: readSingle("open-codes", openCodesSchema) ?? NO_OPEN_CODES,
    cautions: readFolder("cautions", FOLDERS.cautions),
    scores: readFolder("scores", FOLDERS.scores),
    context,
    regions: readSingle("regions", SINGLE_FILES.regions) ?? {},
    glossary: readSingle("glossary", SINGLE_FILES.glossary) ?? {},
    healthy: readSingle("healthy", SINGLE_FILES.healthy) ?? {},
    frequencyWords: readSingle("frequency-words", SINGLE_FILES["frequency-words"]) ?? {},
    weighing,
    lessons: readSingle("lessons", lessonsSchema) ?? NO_LESSONS,
    told: readSingle("told", toldSchema) ?? NO_TOLD,
    prose,
    normals,
  };
  problems.push(...checkKnowledge(value, opened));
  return hasError(problems) ? { problems } : { value, problems };
}

/** Languages with texts of their own, such as `de`. */
export function knowledgeLanguages(folder: string = knowledgeFolder): string[] {
  const inside = join(folder, LANGUAGES);
  if (!existsSync(inside)) return [];
  return readdirSync(inside, { withFileTypes: true })
    .flatMap((entry) => (entry.isDirectory() ? [entry.name] : []))
    .sort();
}

const languages = new Map<string, LanguageTexts | undefined>();

/** The shipped texts of a language, read when first asked for; undefined when there are none. Throws on a fault in them, a bug of ours. */
export function loadLanguage(language: string): LanguageTexts | undefined {
  if (languages.has(language)) return languages.get(language);
  const outcome = knowledgeLanguages().includes(language)
    ? (readCompiledLanguage(language) ?? readLanguage(language))
    : undefined;
  const first = outcome?.problems[0];
  if (first) throw new Error(`knowledge files: ${first.file}:${first.line}:${first.column} ${first.message}`);
  languages.set(language, outcome?.value);
  return outcome?.value;
}

/** Reads and checks the files of one language; all problems in one go, each with its place. */
export function readLanguage(language: string, folder: string = knowledgeFolder): Outcome<LanguageTexts> {
  const problems: Problem[] = [];
  const read = <T>(name: string, schema: z.ZodType<Record<string, T>>): Record<string, T> => {
    const file = join(folder, LANGUAGES, language, `${name}.yaml`);
    if (!existsSync(file)) return {};
    const { source, problems: found } = openYaml(readFileSync(file, "utf8"), file);
    problems.push(...found);
    const parsed = schema.safeParse(source?.value ?? {});
    if (parsed.success) return parsed.data;
    if (source) problems.push(...problemsFromIssues(source, parsed.error.issues));
    return {};
  };
  const value: LanguageTexts = {
    findings: read("findings", LANGUAGE_FILES.findings),
    disorders: read("disorders", LANGUAGE_FILES.disorders),
    cautions: read("cautions", LANGUAGE_FILES.cautions),
    facts: read("facts", LANGUAGE_FILES.facts),
    questions: read("questions", LANGUAGE_FILES.questions),
    regions: read("regions", LANGUAGE_FILES.regions),
    glossary: read("glossary", LANGUAGE_FILES.glossary),
  };
  return hasError(problems) ? { problems } : { value, problems };
}

function readCompiledLanguage(language: string): Outcome<LanguageTexts> | undefined {
  const compiled = readBuilt(compiledLanguageFile(language)) as
    | { readonly hash: string; readonly texts: LanguageTexts }
    | undefined;
  return compiled?.hash === knowledgeHash() ? { value: compiled.texts, problems: [] } : undefined;
}

/** A knowledge folder without factors or words of denial of its own takes the shipped ones. */
const shippedWeighing = (folder: string): Weighing | undefined =>
  shippedFile(folder, "weighing.yaml", weighingSchema);
const shippedProse = (folder: string): Prose | undefined => shippedFile(folder, "prose.yaml", proseSchema);

const shippedFiles = new Map<string, unknown>();

function shippedFile<T>(folder: string, file: string, schema: z.ZodType<T>): T | undefined {
  if (folder === knowledgeFolder) return undefined;
  if (!shippedFiles.has(file)) {
    const { source } = openYaml(readFileSync(join(knowledgeFolder, file), "utf8"), file);
    shippedFiles.set(file, schema.parse(source?.value));
  }
  return shippedFiles.get(file) as T;
}

let shippedHash: string | undefined;

/** Hash over every YAML file shipped with the package, by name and content. Read once, as what it stands for is loaded once. */
export function knowledgeHash(): string {
  shippedHash ??= compiledKnowledge()?.hash ?? hashOf(knowledgeFolder);
  return shippedHash;
}

/** How the files of the knowledge folder look. */
export const knowledgeLooks = (): string => looksOf([knowledgeFolder]);

interface Compiled {
  readonly looks: string;
  readonly hash: string;
  readonly knowledge: Knowledge;
}

let compiled: { readonly value: Compiled | undefined } | undefined;

/** The compiled knowledge, when the files still say what it was compiled from. */
function compiledKnowledge(): Compiled | undefined {
  if (!compiled) {
    const value = readBuilt(compiledFile) as Compiled | undefined;
    const holds = value && (value.looks === knowledgeLooks() || value.hash === hashOf(knowledgeFolder));
    compiled = { value: holds ? value : undefined };
  }
  return compiled.value;
}

function hashOf(folder: string): string {
  const hash = createHash("sha256");
  const spoken = knowledgeLanguages(folder).map((language) => join(LANGUAGES, language));
  for (const sub of ["", ...Object.keys(FOLDERS), "context", "normals", ...spoken]) {
    for (const file of yamlFiles(join(folder, sub))) {
      hash.update(`${sub}/${file}\n`);
      hash.update(readFileSync(join(folder, sub, file)));
    }
  }
  return hash.digest("hex");
}

function readCompiled(folder: string): Outcome<Knowledge> | undefined {
  const value = folder === knowledgeFolder ? compiledKnowledge()?.knowledge : undefined;
  return value ? { value, problems: [] } : undefined;
}

function yamlFiles(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((f) => f.endsWith(".yaml"))
    .sort();
}

/** Words a person may use for a finding or disorder, each with the id it means. */
export function spellings(
  entries: Readonly<Record<string, { id: string; term: string; also: readonly string[] }>>,
): Map<string, string> {
  const words = new Map<string, string>();
  for (const entry of Object.values(entries)) {
    for (const word of [entry.term, entry.id, ...entry.also]) words.set(word, entry.id);
  }
  return words;
}

/** A language pack: words and templates of one language, read from the shipped folder and from a clinic's own. The only reader of templates. */
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { parse } from "yaml";
import { looksOf, readBuilt } from "../base/built.js";
import type { Problem } from "../base/problem.js";
import { inPackage } from "../base/root.js";
import { sha256 } from "../base/sha256.js";
import { openYaml, problemsFromIssues } from "../base/yaml-source.js";
import { READERS, type Reader } from "./document.js";
import { type Words, wordsSchema } from "./phrases.js";
import { respellAll, respellTemplate } from "./spelling.js";

/** What a template's front matter says of the document. */
export interface DocumentHead {
  readonly title: string;
  readonly reader: Reader;
  readonly type: "compact" | "reading";
  /** True when one copy is made for each addressee, with the address in the window. */
  readonly addressed: boolean;
}

export interface TemplateSource {
  readonly name: string;
  readonly file: string;
  readonly head: DocumentHead;
  readonly body: string;
  /** Lines before the body, so that errors name the line of the file. */
  readonly skippedLines: number;
}

export interface Pack {
  readonly language: string;
  readonly words: Words;
  readonly documents: Readonly<Record<string, TemplateSource>>;
  readonly parts: Readonly<Record<string, TemplateSource>>;
  /** Sheets on many visits, for the clinic only, and the notice of a withdrawal; they are filled with facts of their own. */
  readonly sheets: Readonly<Record<string, TemplateSource>>;
}

export const templatesFolder: string = inPackage("templates");

const packs = new Map<string, { pack?: Pack; problems: Problem[] }>();

/** `en-GB` -> `en`, `en-GB`: the folders to read, general first. */
export function languageChain(language: string): string[] {
  const parts = language.split("-");
  return parts.map((_, i) => parts.slice(0, i + 1).join("-"));
}

/** Languages with a folder of words, such as `en`. */
export function packLanguages(folder: string = templatesFolder): string[] {
  return readdirSync(folder)
    .filter((name) => existsSync(join(folder, name, "words.yaml")))
    .sort();
}

/**
 * Reads the pack for a language; `own` is a clinic's template folder, laid out like the shipped one, whose single files take
 * the place of ours. Problems name the file and line.
 */
export function loadPack(language: string, own?: string): { pack?: Pack; problems: Problem[] } {
  const key = `${language}\n${own ?? ""}`;
  const known = packs.get(key);
  if (known) return known;
  const built = own === undefined ? builtPack(language) : undefined;
  const result = built ? { pack: built, problems: [] } : readPack(language, own);
  packs.set(key, result);
  return result;
}

/** A clinic's folder that is not there, or holds no folder of a language: its wording would be missed in silence. */
function ownFolderFault(own: string): Problem | undefined {
  const fault = (message: string, expected: string): Problem => ({
    severity: "error",
    id: "no-own-templates",
    message,
    file: own,
    expected,
  });
  if (!existsSync(own))
    return fault("the folder of your own templates is not there", "a folder, or no key templates");
  const folders = statSync(own).isDirectory() ? readdirSync(own) : [];
  if (
    folders.some((name) => packLanguages().includes(name) || /^[a-z]{2,3}(?:-[A-Z][A-Za-z]*)*$/u.test(name))
  )
    return undefined;
  const holds = folders.length > 0 ? `, only ${folders.slice(0, 5).join(", ")}` : "";
  return fault(
    `the folder of your own templates holds no folder of a language${holds}`,
    "a folder such as en or en-GB in it",
  );
}

function readPack(language: string, own?: string): { pack?: Pack; problems: Problem[] } {
  const absent = own === undefined ? undefined : ownFolderFault(own);
  if (absent) return { problems: [absent] };
  const problems: Problem[] = [];
  let words: Record<string, unknown> = {};
  const documents: Record<string, TemplateSource> = {};
  const parts: Record<string, TemplateSource> = {};
  const sheets: Record<string, TemplateSource> = {};
  let found = false;
  let wordsFile = "";
  // A clinic's English stands over ours, and our American habits over both.
  for (const code of languageChain(language)) {
    for (const root of [templatesFolder, ...(own ? [own] : [])]) {
      const folder = join(root, code);
      if (!existsSync(folder)) continue;
      found = true;
      for (const file of readdirSync(folder).sort()) {
        const path = join(folder, file);
        if (file === "words.yaml") {
          const text = readFileSync(path, "utf8");
          let value = compiledYaml(text);
          if (value === undefined) {
            const { source, problems: p } = openYaml(text, path);
            problems.push(...p);
            value = source?.value;
          }
          wordsFile = path;
          if (isRecord(value)) words = merge(words, value);
        } else if (file.endsWith(".part.hbs")) {
          const name = file.slice(0, -".part.hbs".length);
          parts[name] = { ...readTemplate(path, problems), name };
        } else if (file.endsWith(".sheet.hbs")) {
          const name = file.slice(0, -".sheet.hbs".length);
          sheets[name] = { ...readTemplate(path, problems), name };
        } else if (file.endsWith(".hbs")) {
          const name = file.slice(0, -".hbs".length);
          documents[name] = { ...readTemplate(path, problems), name };
        }
      }
    }
  }
  if (!found) {
    problems.push({
      severity: "error",
      id: "no-language-pack",
      message: `no words for language "${language}"`,
      expected: packLanguages().join(", "),
    });
    return { problems };
  }
  const checked = wordsSchema().safeParse(words);
  if (!checked.success) {
    const { source } = openYaml(existsSync(wordsFile) ? readFileSync(wordsFile, "utf8") : "", wordsFile);
    if (source)
      problems.push(
        ...problemsFromIssues(source, checked.error.issues).map((p) => ({
          ...p,
          id: "missing-phrase" as const,
        })),
      );
    return { problems };
  }
  return { pack: spelled({ language, words: checked.data, documents, parts, sheets }), problems };
}

/** Our own words in the spelling of the pack. A clinic's own templates are taken as written. */
function spelled(pack: Pack): Pack {
  const { spelling } = pack.words;
  if (!spelling) return pack;
  const change = (templates: Readonly<Record<string, TemplateSource>>) =>
    Object.fromEntries(
      Object.entries(templates).map(([name, t]) => [
        name,
        t.file.startsWith(templatesFolder)
          ? { ...t, body: respellTemplate(spelling, t.body), head: respellAll(spelling, t.head) }
          : t,
      ]),
    );
  const { language, titles, title_words, months, ...words } = pack.words;
  return {
    ...pack,
    words: { ...respellAll(spelling, words), language, titles, title_words, months, spelling },
    documents: change(pack.documents),
    parts: change(pack.parts),
    sheets: change(pack.sheets),
  };
}

/** Where the build leaves the pack of a folder of ours, so that a cold start need neither read nor check it. */
export const builtPackFile = (folder: string): string => inPackage("dist", `pack.${folder}.json`);

/** How the files of our templates look. */
export const templatesLooks = (): string => looksOf([templatesFolder]);

let looks: string | undefined;

/** Our pack of a language as the build read it, when our templates look as they did then. */
function builtPack(language: string): Pack | undefined {
  const folder = languageChain(language).findLast((code) => existsSync(join(templatesFolder, code)));
  const built = folder === undefined ? undefined : readBuilt(builtPackFile(folder));
  if (!isRecord(built)) return undefined;
  looks ??= templatesLooks();
  if (built.looks !== looks) return undefined;
  const pack = built.pack as Pack;
  const placed = (templates: Pack["documents"]) =>
    Object.fromEntries(
      Object.entries(templates).map(([name, t]) => [name, { ...t, file: join(templatesFolder, t.file) }]),
    );
  return {
    ...pack,
    language,
    documents: placed(pack.documents),
    parts: placed(pack.parts),
    sheets: placed(pack.sheets),
  };
}

/** What the YAML of the shipped templates says, by hash of the text, as the build worked it out: a cold start need not parse it. */
let compiled: Readonly<Record<string, unknown>> | undefined;

/** The value of a YAML text; undefined when the build did not know it, as for one that was changed since. */
function compiledYaml(text: string): unknown {
  compiled ??= readCompiled();
  const key = sha256(text);
  return Object.hasOwn(compiled, key) ? compiled[key] : undefined;
}

function readCompiled(): Readonly<Record<string, unknown>> {
  const built = readBuilt(inPackage("dist", "templates.json"));
  return isRecord(built) ? built : {};
}

/** The lines between --- at the top of a template, alone and with their marks. */
export function headOf(template: string): { readonly whole: string; readonly yaml: string } | undefined {
  const [whole, yaml] = /^---\n([\s\S]*?\n)---\n/u.exec(template) ?? [];
  return whole && yaml ? { whole, yaml } : undefined;
}

const NO_HEAD: DocumentHead = { title: "", reader: "doctor", type: "compact", addressed: false };

function readTemplate(file: string, problems: Problem[]): TemplateSource {
  const text = readFileSync(file, "utf8").replace(/\r\n/gu, "\n");
  const written = headOf(text);
  if (!written) return { name: "", file, head: NO_HEAD, body: text, skippedLines: 0 };
  const raw: unknown = compiledYaml(written.yaml) ?? parse(written.yaml);
  const skippedLines = written.whole.split("\n").length - 1;
  const body = text.slice(written.whole.length);
  if (!isRecord(raw) || typeof raw.title !== "string" || !READERS.some((r) => r === raw.reader)) {
    problems.push({
      severity: "error",
      id: "template-head",
      message: `the lines between --- must give title and reader (${READERS.join(", ")})`,
      file,
      line: 1,
      column: 1,
    });
    return { name: "", file, head: NO_HEAD, body, skippedLines };
  }
  return {
    name: "",
    file,
    body,
    skippedLines,
    head: {
      title: raw.title,
      reader: READERS.find((r) => r === raw.reader) ?? "doctor",
      type: raw.type === "reading" ? "reading" : "compact",
      addressed: raw.addressed === true,
    },
  };
}

function merge(base: Record<string, unknown>, over: Record<string, unknown>): Record<string, unknown> {
  const out: Record<string, unknown> = { ...base };
  for (const [key, value] of Object.entries(over)) {
    const before = out[key];
    out[key] = isRecord(before) && isRecord(value) ? merge(before, value) : value;
  }
  return out;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

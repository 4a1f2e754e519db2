/** A template and the facts -> HTML. The only place that knows the template engine; what a template may reach is decided here. */
import Handlebars from "handlebars";
import type { Problem } from "../base/problem.js";
import { sha256 } from "../base/sha256.js";
import { compiledTemplate } from "./compiled-templates.js";
import type { Drawing } from "./document.js";
import type { Pack, TemplateSource } from "./pack.js";
import { asSentence, capital, list, type Words, writeDate, writeDuration, writeNumber } from "./phrases.js";
import { LineMarks, type TemplatePlace } from "./template-lines.js";
import type { LetterFacts } from "./variables.js";

/** What a sheet on many visits prints: plain data of its own shape. */
export type SheetFacts = Readonly<Record<string, unknown>>;

/** Our own drawings by name. */
export type Drawings = Readonly<Record<string, Drawing>>;

/** A fault inside a part, kept with the part it stands in. */
class PartFault extends Error {
  constructor(
    readonly part: TemplateSource,
    readonly fault: unknown,
  ) {
    super("fault in a part");
  }
}

/** Fills the body of a template. A fault is a problem with the file and line of the template or part it stands in. */
export function fillTemplate(
  pack: Pack,
  template: TemplateSource,
  facts: LetterFacts | SheetFacts,
  drawings: Drawings,
): { html?: string; problems: Problem[] } {
  try {
    const run = ready.get(template)?.get(pack) ?? compile(pack, template);
    const byPack = ready.get(template) ?? new WeakMap<Pack, Handlebars.TemplateDelegate>();
    ready.set(template, byPack.set(pack, run));
    return { html: filled(run, pack, facts, drawings), problems: [] };
  } catch (error) {
    const problem =
      error instanceof PartFault
        ? templateProblem(error.part, error.fault)
        : templateProblem(template, error);
    return { problems: [problem] };
  }
}

/** The place in the template or one of its parts that the `line`th line of the filled HTML comes from. */
export function lineInTemplate(
  line: number,
  pack: Pack,
  template: TemplateSource,
  facts: LetterFacts | SheetFacts,
  drawings: Drawings,
): TemplatePlace | undefined {
  const marks = new LineMarks();
  const run = compile(pack, template, (engine, source) => marks.marked(engine, source));
  return marks.placeOf(filled(run, pack, facts, drawings), line);
}

function filled(
  run: Handlebars.TemplateDelegate,
  pack: Pack,
  facts: LetterFacts | SheetFacts,
  drawings: Drawings,
): string {
  return run(withBarePrototypes(facts), {
    helpers: letterHelpers(pack.words, drawings),
    allowProtoMethodsByDefault: false,
    allowProtoPropertiesByDefault: false,
  });
}

/** Knows nothing but how to be named in an error. */
const BARE: object = Object.create(null, { [Symbol.toPrimitive]: { value: () => "the facts" } });

/** A copy whose objects have a bare prototype: a template then knows `constructor` and its like no more than a slip. */
function withBarePrototypes(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(withBarePrototypes);
  if (typeof value !== "object" || value === null) return value;
  const copy: Record<string, unknown> = Object.create(BARE);
  for (const [key, inner] of Object.entries(value)) {
    // A key without a value is no key: the template's author then hears of it.
    if (inner !== undefined) copy[key] = withBarePrototypes(inner);
  }
  return copy;
}

/** Templates compiled before; compiling takes longer than filling. */
const ready = new WeakMap<TemplateSource, WeakMap<Pack, Handlebars.TemplateDelegate>>();

type Engine = typeof Handlebars;

/** What of a source is compiled: its tree with something done to it. */
type Read = (engine: Engine, source: TemplateSource) => hbs.AST.Program;

/** Without `read` the text is compiled as it stands, or taken as the build compiled it. */
function compile(pack: Pack, template: TemplateSource, read?: Read): Handlebars.TemplateDelegate {
  const engine = Handlebars.create();
  for (const name of ["log", "lookup"]) engine.unregisterHelper(name);
  const options = compileOptions();
  const ready = (source: TemplateSource, part: TemplateSource | null): Handlebars.TemplateDelegate => {
    const built = read ? undefined : compiledTemplate(sha256(source.body));
    if (built) return engine.template(built);
    parse(engine, source, part);
    return engine.compile(read ? read(engine, source) : source.body, options);
  };
  for (const part of Object.values(pack.parts))
    engine.registerPartial(part.name, partial(ready(part, part), part));
  return ready(template, null);
}

/** How our templates are compiled, at the build too. */
export function compileOptions(): CompileOptions {
  return {
    strict: true,
    knownHelpersOnly: true,
    knownHelpers: {
      ...Object.fromEntries(HELPERS.map((name) => [name, true])),
      log: false,
      lookup: false,
    },
    preventIndent: true,
  };
}

/** Reads a body once, so that a slip in a part is found in the part, whatever document calls it first. */
function parse(engine: Engine, source: TemplateSource, part: TemplateSource | null): void {
  try {
    engine.parse(source.body);
  } catch (error) {
    throw part ? new PartFault(part, error) : error;
  }
}

function partial(run: Handlebars.TemplateDelegate, part: TemplateSource): Handlebars.TemplateDelegate {
  return (context, runtime) => {
    try {
      return run(context, runtime);
    } catch (error) {
      throw error instanceof PartFault ? error : new PartFault(part, error);
    }
  };
}

/** Handlebars says `... - 12:4` or `Parse error on line 12`; both count from the body's first line. */
function templateProblem(template: TemplateSource, error: unknown): Problem {
  const text = error instanceof Error ? error.message : String(error);
  const place = /(\d+):(\d+)\s*$/u.exec(text) ?? /on line (\d+)/u.exec(text);
  return {
    severity: "error",
    id: "template-error",
    message: saidPlainly(text),
    file: template.file,
    line: Number(place?.[1] ?? 1) + template.skippedLines,
    column: Number(place?.[2] ?? 0) + 1,
  };
}

function saidPlainly(text: string): string {
  const missing = /^"([^"]+)" not defined/u.exec(text)?.[1];
  if (missing) return `the template prints "${missing}", which no document has`;
  const helper = /unknown helper (\S+)/iu.exec(text)?.[1];
  if (helper) return `the template calls "${helper}", which is no helper`;
  const part = /partial (\S+) could not be found/iu.exec(text)?.[1];
  if (part) return `the template calls the part "${part}", which no file holds`;
  return text.split("\n")[0] ?? "template error";
}

/** The helpers a template may call, by name. */
const HELPERS = ["cap", "sentence", "list", "date", "duration", "after", "num", "eq", "drawing"] as const;

/** What they do; the list a clinic reads stands in templates/VARIABLES.md. */
export function letterHelpers(
  words: Words,
  drawings: Drawings,
): Record<(typeof HELPERS)[number], Handlebars.HelperDelegate> {
  const text = (v: unknown) => (v === null || v === undefined ? "" : String(v));
  return {
    cap: (v: unknown) => capital(text(v)),
    sentence: (v: unknown) => asSentence(text(v)),
    list: (v: unknown) => (Array.isArray(v) ? list(words, v.map(text)) : text(v)),
    date: (v: unknown) => writeDate(words, text(v)),
    duration: (v: unknown) => writeDuration(words, Number(v)),
    after: (v: unknown) => writeDuration(words, Number(v), true),
    num: (v: unknown, places: unknown) =>
      writeNumber(words, Number(v), typeof places === "number" ? places : 0),
    eq: (a: unknown, b: unknown) => a === b,
    // Our own drawings only, looked up by name: nothing a person typed reaches the page unescaped.
    drawing: (name: unknown) =>
      new Handlebars.SafeString(Object.hasOwn(drawings, text(name)) ? (drawings[text(name)]?.() ?? "") : ""),
  };
}

/** An examined visit -> finished documents as bytes, each with a file name that carries no patient name. */
import { hasError, type Problem } from "../base/problem.js";
import { sha256 } from "../base/sha256.js";
import { safeName } from "../files/write.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Letter } from "../letter/document.js";
import { type ComposeInput, composeLetter, packFor, templatePlace } from "../letter/letter.js";
import type { DocumentHead, Pack } from "../letter/pack.js";
import { renderHtml } from "../page/html.js";
import { renderPdf } from "../page/pdf.js";
import { renderText } from "../page/text.js";
import { editionOf, type KnownEditions, replacedDay } from "../register/editions.js";
import type { Clinic } from "../visit/clinic.js";
import { placeProblems } from "../visit/read.js";
import type { Recipient, Visit } from "../visit/visit.js";
import type { Examined } from "./examine.js";
import { readPictures } from "./pictures.js";
import { whereTyped } from "./where-typed.js";

export const FORMATS = ["pdf", "html", "text"] as const;
export type Format = (typeof FORMATS)[number];
const SUFFIX: Record<Format, string> = { pdf: "pdf", html: "html", text: "txt" };

export interface MakeOptions {
  readonly knowledge: Knowledge;
  readonly clinic: Clinic;
  /** Document kinds, such as `referral-letter`. */
  readonly documents: readonly string[];
  readonly format: Format;
  /** Path of the clinic file, to tell what stands in it. */
  readonly clinicFile?: string;
  readonly overrides?: Pick<ComposeInput, "paper" | "language" | "largePrint" | "templates" | "change">;
  /** What the register says of the visit's letters so far. */
  readonly editions?: KnownEditions;
}

export interface MadeDocument {
  readonly kind: string;
  readonly visit: string;
  readonly patient: string;
  /** Null for documents that carry no address. */
  readonly recipient: Recipient | null;
  readonly name: string;
  readonly bytes: Uint8Array;
  /** 0 for text and HTML. */
  readonly pages: number;
  readonly sha256: string;
  readonly letter: Letter;
  readonly reader: DocumentHead["reader"];
  readonly pack: Pack;
}

/** A letter of more pages is a slip or an attack: some text grew without bounds. */
export const MOST_PAGES = 40;

/**
 * Makes every asked document of one visit: an addressed one once for each addressee. Either all are made, or the problems
 * say why and nothing is returned. `photos` are hashes of the pictures as they were read.
 */
export async function makeDocuments(
  examined: Examined,
  options: MakeOptions,
): Promise<{ made: MadeDocument[]; problems: Problem[]; photos: Readonly<Record<string, string>> }> {
  const made: MadeDocument[] = [];
  const problems: Problem[] = [];
  const {
    pictures,
    problems: unread,
    read: photos,
  } = readPictures(examined.file, examined.visit, options.clinic);
  problems.push(...placeProblems(examined.places, unread));
  const told = () => whereTyped(problems, options.clinic, examined.file, options.clinicFile);
  if (hasError(problems)) return { made: [], problems: told(), photos };
  for (const kind of options.documents) {
    const input: ComposeInput = {
      visit: examined.visit,
      measures: examined.measures,
      interpretation: examined.interpretation,
      ...(examined.cameSince ? { cameSince: examined.cameSince } : {}),
      clinic: options.clinic,
      knowledge: options.knowledge,
      pictures,
      ...options.overrides,
    };
    const { pack } = packFor(kind, input);
    const head = pack?.documents[kind]?.head;
    const recipients: (Recipient | null)[] = head?.addressed ? addressees(examined.visit.sendTo) : [null];
    for (const [index, recipient] of recipients.entries()) {
      const own: ComposeInput = {
        ...input,
        ...(recipient ? { recipient } : {}),
        ...replacing(examined.visit, options.editions, recipient),
      };
      const composed = composeLetter(kind, own);
      problems.push(...composed.problems.map((p) => ({ file: examined.file, ...p })));
      if (!composed.value) continue;
      // A reader outside the care gets another document than the one asked for.
      const madeHead = pack?.documents[composed.value.kind]?.head;
      const rendered = await render(composed.value, options.format);
      problems.push(...rendered.problems.map((p) => inTemplate(p, kind, own, examined.file)));
      if (!rendered.bytes || !pack || !madeHead) continue;
      if (rendered.pages > MOST_PAGES) {
        problems.push(tooManyPages(examined.file, kind, rendered.pages));
        continue;
      }
      const number = recipients.length > 1 ? [String(index + 1)] : [];
      made.push({
        kind: composed.value.kind,
        visit: examined.visit.id,
        patient: examined.visit.patient.id,
        recipient,
        name: `${safeName(examined.visit.id, composed.value.kind, ...number)}.${SUFFIX[options.format]}`,
        bytes: rendered.bytes,
        pages: rendered.pages,
        sha256: sha256(rendered.bytes),
        letter: composed.value,
        reader: madeHead.reader,
        pack,
      });
    }
  }
  return { made: hasError(problems) ? [] : made, problems: told(), photos };
}

/** What comes of a text that somebody typed, wherever a template prints it. */
const OF_TYPED_TEXT: ReadonlySet<string> = new Set(["hidden-characters", "right-to-left", "content-lost"]);

/** The page counts the lines of the letter it was given; a person edits the template. */
function inTemplate(problem: Problem, kind: string, input: ComposeInput, file: string): Problem {
  const { line, ...rest } = problem;
  const place =
    line === undefined || OF_TYPED_TEXT.has(problem.id) ? undefined : templatePlace(kind, input, line);
  return place ? { ...rest, ...place, column: 1 } : { file, ...rest };
}

/** The letter that one replaces for its reader, as `composeLetter` takes it. */
export function replacing(
  visit: Visit,
  editions: KnownEditions | undefined,
  recipient: Recipient | null,
): Pick<ComposeInput, "replaces"> {
  const replaces = editions && replacedDay(editions, editionOf(visit), recipient);
  return replaces === undefined ? {} : { replaces };
}

function tooManyPages(file: string, kind: string, pages: number): Problem {
  return {
    severity: "error",
    id: "too-many-pages",
    message: `${kind} would take ${pages} pages; at most ${MOST_PAGES} are made`,
    file,
    expected: "shorter free text in the visit",
  };
}

/** Those written to first, then those who get a copy. */
export function addressees(sendTo: readonly Recipient[]): Recipient[] {
  return [...sendTo.filter((r) => !r.copy), ...sendTo.filter((r) => r.copy)];
}

async function render(
  letter: Letter,
  format: Format,
): Promise<{ bytes?: Uint8Array; pages: number; problems: readonly Problem[] }> {
  if (format === "text") return { bytes: Buffer.from(renderText(letter), "utf8"), pages: 0, problems: [] };
  if (format === "html") return { bytes: Buffer.from(renderHtml(letter), "utf8"), pages: 0, problems: [] };
  const { value, problems } = await renderPdf(letter);
  return value ? { bytes: value.bytes, pages: value.pages, problems } : { pages: 0, problems };
}

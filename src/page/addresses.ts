/** Addresses -> a PDF of them on sheets of labels or on envelopes, each line whole in its own area or not at all. */
import { hasError, type Outcome, type Problem } from "../base/problem.js";
import { escapeXml } from "../base/text.js";
import type { Letter } from "../letter/document.js";
import { childElements, headingLevels, readMarkup } from "./html/markup.js";
import { layOut, print } from "./pdfmake/print.js";
import { pageError } from "./problems.js";
import { setBlocks } from "./set/blocks.js";
import type { Block, PdfNode } from "./set/content.js";
import { PageBreaks } from "./set/page-breaks.js";
import { type Setting, setParagraph, typeOf } from "./set/setting.js";
import { addTag } from "./set/structure.js";
import {
  type AddressArea,
  ENVELOPES,
  type EnvelopeName,
  envelopeArea,
  LABEL_SHEETS,
  type LabelSheetName,
  labelArea,
  senderArea,
} from "./type/address-paper.js";
import { addressRows, filled } from "./type/address-rows.js";
import { BODY_FACE, facesInUse, textWidth, using } from "./type/fonts.js";
import { mm } from "./type/paper.js";
import { SCALES, type Style } from "./type/scale.js";
import { readTypefaces } from "./typefaces.js";

export interface Addressed {
  /** Name and postal address, one line each. */
  readonly lines: readonly string[];
}

export interface AddressOptions {
  /** BCP 47 tag and title of the document. */
  readonly language: string;
  readonly title: string;
  /** ISO date, so that equal input gives equal bytes. */
  readonly date: string;
  readonly fonts?: string;
}

/** One thing on a page. */
interface Placed {
  /** Number of the address, from 1: problems never hold its words. */
  readonly number: number;
  readonly lines: readonly string[];
  readonly area: AddressArea;
  readonly sizes: readonly number[];
  readonly isSender?: boolean;
}

interface Pages {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly pages: readonly (readonly Placed[])[];
}

/** From the largest that fits down to the smallest that sorting machines and people read well. Common practice. */
const SIZES = [11, 10.5, 10, 9.5, 9, 8.5, 8];
const SENDER_SIZES = [8, 7.5, 7];
const LEADING = 1.28;

/** Labels from the place `first` of the first sheet on, counted from 1, so that a begun sheet can be used up. */
export function renderLabels(
  addresses: readonly Addressed[],
  name: LabelSheetName,
  first: number,
  options: AddressOptions,
): Promise<Outcome<{ bytes: Uint8Array; pages: number }>> {
  const sheet = LABEL_SHEETS[name];
  const each = sheet.columns * sheet.rows;
  const pages: Placed[][] = [];
  addresses.forEach(({ lines }, i) => {
    const place = first - 1 + i;
    const page = Math.floor(place / each);
    pages[page] ??= [];
    pages[page].push({ number: i + 1, lines, area: labelArea(sheet, place % each), sizes: SIZES });
  });
  return render({ ...sheet, pages }, options);
}

/** One envelope a page, with the sender in its corner. */
export function renderEnvelopes(
  addresses: readonly Addressed[],
  name: EnvelopeName,
  sender: readonly string[],
  options: AddressOptions,
): Promise<Outcome<{ bytes: Uint8Array; pages: number }>> {
  const envelope = ENVELOPES[name];
  const pages = addresses.map(({ lines }, i): Placed[] => [
    ...(sender.length > 0
      ? [{ number: i + 1, lines: sender, area: senderArea(envelope), sizes: SENDER_SIZES, isSender: true }]
      : []),
    { number: i + 1, lines, area: envelopeArea(envelope), sizes: SIZES },
  ]);
  return render({ ...envelope, pages }, options);
}

async function render(
  { widthMm, heightMm, pages }: Pages,
  options: AddressOptions,
): Promise<Outcome<{ bytes: Uint8Array; pages: number }>> {
  const added = readTypefaces(options.fonts);
  const problems: Problem[] = [...added.problems];
  return using(added.value, async () => {
    const letter = plainLetter(options);
    const root = addTag(null, "Document");
    const blocks: Block[] = [];
    const nodes = pages.map((page) => page.flatMap((one) => set(one, letter, root, blocks, problems)));
    if (hasError(problems)) return { problems };
    const size = { width: mm(widthMm), height: mm(heightMm) };
    const body: PdfNode = {
      stack: nodes.flatMap((page, i) => [
        ...(i > 0 ? [{ stack: [], pageBreak: "before" } satisfies PdfNode] : []),
        ...page,
      ]),
    };
    const flow = new PageBreaks(blocks, { top: 0, height: size.height }, () => [body], {
      smallestDrawing: 1,
      mayMoveTables: false,
    });
    const definition = {
      content: { ...body, flow },
      pageSize: size,
      pageMargins: [0, 0, 0, 0],
      defaultStyle: { font: BODY_FACE },
      version: "1.7",
      tagged: true,
      language: options.language,
      displayTitle: true,
      info: {
        title: options.title,
        creator: "Whorl",
        producer: "Whorl",
        creationDate: new Date(`${options.date}T00:00:00Z`),
      },
    };
    const faces = facesInUse();
    const laidOut = await layOut({ definition, root, flow, count: { pages: pages.length }, faces });
    return { value: { bytes: await print(laidOut), pages: pages.length }, problems };
  });
}

/** The largest type in which every line fits whole; failing that, in which long lines go on after a comma, or between words. */
function fitted(
  { lines, sizes }: Placed,
  width: number,
  height: number,
): { readonly size: number; readonly lines: readonly string[] } | undefined {
  const fits = (of: readonly string[], size: number) =>
    of.every((line) => textWidth(line, size) <= width) && of.length * size * LEADING <= height;
  const whole = sizes.find((size) => fits(lines, size));
  if (whole !== undefined) return { size: whole, lines };
  const broken = (rows: (line: string, width: number, size: number) => readonly string[]) =>
    sizes.map((size) => ({ size, lines: lines.flatMap((line) => rows(line, width, size)) }));
  const atWords = (line: string, width: number, size: number) => filled(line.split(" "), width, size);
  return [...broken(addressRows), ...broken(atWords)].find((one) => fits(one.lines, one.size));
}

/** The node of one address in the middle of its area from top to bottom; none, with a problem, where it does not fit. */
function set(
  placed: Placed,
  letter: Letter,
  root: ReturnType<typeof addTag>,
  blocks: Block[],
  problems: Problem[],
): PdfNode[] {
  const { area, isSender } = placed;
  const [width, height] = [mm(area.widthMm), mm(area.heightMm)];
  const found = fitted(placed, width, height);
  if (!found) {
    const which = isSender ? "the sender's address" : `address ${placed.number}`;
    problems.push(pageError("address-does-not-fit", `${which} does not fit`, { found: which }));
    return [];
  }
  const { size, lines } = found;
  const markup = readMarkup(`<address class="window">${lines.map(escapeXml).join("<br>")}</address>`);
  problems.push(...markup.problems);
  const element = markup.value && childElements(markup.value)[0];
  if (!element) return [];
  const style: Style = { size, leading: size * LEADING };
  const scale = SCALES.compact;
  const setting: Setting = {
    letter,
    scale,
    problems,
    blocks,
    width,
    pageHeight: height,
    tag: root,
    headingLevels: headingLevels(element),
    block: null,
    breakable: false,
    style,
    measureEms: scale.measureEms,
    setBlocks,
  };
  const node = setParagraph(setting, element, element.children, { style, isDetached: true });
  const rest = isSender ? 0 : (height - lines.length * style.leading) / 2;
  const at = { x: mm(area.leftMm), y: mm(area.topMm) + rest };
  return node ? [{ stack: [{ ...node, ...typeOf(style) }], absolutePosition: at }] : [];
}

function plainLetter({ language, title, date }: AddressOptions): Letter {
  return {
    kind: "addresses",
    title,
    language,
    paper: "A4",
    typeSize: "compact",
    addressWindow: "none",
    foldMarks: false,
    draftMark: null,
    identifiers: "",
    confidentiality: "",
    pageWords: "",
    date,
    html: "",
    photos: {},
  };
}

/**
 * The least the pages of a letter can cost: every word, rule, drawing and photo at its place by plain calls of stock pdfkit, from
 * a list that was made before. Nothing is measured, broken into lines or laid out here.
 */
import { type BareDocument, type BareElement, bareDocument, type ShapedWords } from "./bare-document.js";
import type { Call, StructureNode, Trace } from "./calls.js";

export interface FloorOptions {
  /** With marked content and a structure tree. */
  readonly tagged: boolean;
  /** Kept from letter to letter. */
  readonly shaped?: ShapedWords;
}

/** What was marked: elements by number as far as they exist, the type of each, and every marked piece in order. */
class Marks {
  readonly types: string[] = [];
  private readonly pieces: unknown[] = [];
  private readonly elements: BareElement[] = [];
  private readonly attributes: StructureNode["attributes"][] = [];

  constructor(
    private readonly document: BareDocument,
    private readonly root: StructureNode,
  ) {
    this.learn(root);
  }

  private learn(node: StructureNode): void {
    this.types[node.number] = node.type;
    this.attributes[node.number] = node.attributes;
    for (const kid of node.kids) if (typeof kid === "object") this.learn(kid);
  }

  begin(number: number | null): void {
    if (number === null) this.document.markContent("Artifact");
    else this.pieces.push(this.document.markStructureContent(this.types[number] ?? "P"));
  }

  element(number: number): BareElement {
    let element = this.elements[number];
    if (!element) {
      const { alt, lang, actualText, scope, colSpan, numbering } = this.attributes[number] ?? {};
      element = this.document.struct(this.types[number] ?? "P", { alt, lang, actual: actualText, scope });
      const { data } = element.dictionary;
      if (colSpan) data.A = { O: "Table", ...(data.A as object), ColSpan: colSpan };
      if (numbering) data.A = { O: "List", ListNumbering: numbering };
      this.elements[number] = element;
    }
    return element;
  }

  private build(node: StructureNode): BareElement {
    const element = this.element(node.number);
    for (const kid of node.kids) element.add(typeof kid === "number" ? this.pieces[kid] : this.build(kid));
    element.end();
    return element;
  }

  write(): void {
    this.document.addStructure(this.build(this.root));
  }
}

function draw(document: BareDocument, call: Call, marks: Marks | undefined): void {
  const [method, ...args] = call;
  if (method === "begin") marks?.begin(args[0] as number | null);
  else if (method === "end") {
    if (marks) document.endMarkedContent();
  } else if (method === "link") {
    const [x, y, width, height, url, number] = args as [number, number, number, number, string, number];
    const options = marks ? { structParent: marks.element(number), Contents: new String(url) } : {};
    document.link(x, y, width, height, url, options);
  } else {
    const draws = document as unknown as Record<string, (...given: unknown[]) => unknown>;
    if (!draws[method]) throw new Error(`pdfkit has no ${method}`);
    draws[method](...args);
  }
}

/** The bytes of a PDF with the pages of `trace`. */
export function drawFloor(trace: Trace, { tagged, shaped }: FloorOptions): Promise<Uint8Array> {
  const document = bareDocument(
    {
      pdfVersion: "1.7",
      tagged,
      lang: trace.language,
      displayTitle: true,
      info: { Title: trace.title, CreationDate: new Date(`${trace.date}T00:00:00Z`) },
    },
    trace.fonts,
    shaped,
  );
  for (const [name, bytes] of trace.photos) document._imageRegistry[name] = document.openImage(bytes);
  const marks = tagged ? new Marks(document, trace.root) : undefined;
  return new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = [];
    document.on("data", (chunk: Uint8Array) => chunks.push(chunk));
    document.on("end", () => resolve(new Uint8Array(Buffer.concat(chunks))));
    document.on("error", reject);
    for (const page of trace.pages) {
      document.addPage({ size: [page.width, page.height], margin: 0 });
      for (const call of page.calls) draw(document, call, marks);
    }
    marks?.write();
    document.end();
  });
}

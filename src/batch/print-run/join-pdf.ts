/**
 * Many PDFs -> one, written as it grows: memory holds one letter and a number for each object, however many letters there are.
 * Structure trees come along, so a tagged letter stays tagged.
 */

import type { WholeFile } from "../../files/whole-file.js";
import {
  PDFArray,
  PDFDict,
  PDFDocument,
  PDFName,
  PDFNull,
  PDFNumber,
  PDFObject,
  PDFRef,
  PDFStream,
} from "../../page/pdf-lib.js";
import { type PrintRunHow, writeMark } from "./mark.js";

const name = (text: string) => PDFName.of(text);
/** Where the pieces of the file go. */
export type Sink = Pick<WholeFile, "position" | "write">;

/** Attributes a page may take from the page tree above it. */
const INHERITED = ["MediaBox", "CropBox", "Resources", "Rotate"] as const;

export class JoinedPdf {
  /** Byte offset by object number; 0 is not used. */
  private readonly offsets: number[] = [0];
  private readonly nodes: number[] = [];
  private readonly structures: number[] = [];
  private readonly parents: number[] = [];
  private readonly roles = new Map<string, string>();
  private nextParent = 0;
  private pageCount = 0;
  private readonly catalog = this.reserve();
  private readonly pageTree = this.reserve();
  private readonly structureTree = this.reserve();

  constructor(
    private readonly file: Sink,
    how: PrintRunHow,
  ) {
    file.write(`%PDF-1.7\n%\xe2\xe3\xcf\xd3\n${writeMark(how)}\n`);
  }

  get pages(): number {
    return this.pageCount;
  }

  /** Adds every page of a PDF; returns how many. Throws when the bytes are no PDF. */
  async add(bytes: Uint8Array): Promise<number> {
    const source = await PDFDocument.load(bytes, { updateMetadata: false });
    const copy = new Copy(source, this);
    const pages = source.getPages();
    const node = this.reserve();
    const kids: number[] = [];
    for (const page of pages) {
      const dict = page.node;
      for (const key of INHERITED) {
        const value = dict.getInheritableAttribute(name(key));
        if (value && !dict.has(name(key))) dict.set(name(key), value);
      }
      copy.setLater(dict, "Parent", node);
      const own = dict.lookupMaybe(name("StructParents"), PDFNumber);
      if (own) dict.set(name("StructParents"), PDFNumber.of(own.asNumber() + this.nextParent));
      kids.push(copy.numberOf(page.ref));
    }
    this.addStructure(source, copy);
    copy.writeAll();
    this.writeNode(node, kids);
    return pages.length;
  }

  /** Adds an empty page of the size of a sheet, in points. */
  addBlank(width: number, height: number): void {
    const node = this.reserve();
    const page = this.reserve();
    this.writeText(
      page,
      `<< /Type /Page /Parent ${node} 0 R /MediaBox [0 0 ${width} ${height}] /Resources << >> >>`,
    );
    this.writeNode(node, [page]);
  }

  /** Writes page tree, structure tree and cross-references; the file is complete but not yet named. */
  end(title: string, language: string): void {
    const info = this.reserve();
    this.writeText(info, `<< /Title ${hexText(title)} /Producer (Whorl) /Creator (Whorl) >>`);
    const nodes = this.nodes.map((n) => `${n} 0 R`).join(" ");
    this.writeText(this.pageTree, `<< /Type /Pages /Kids [${nodes}] /Count ${this.pageCount} >>`);
    const tagged = this.structures.length > 0;
    if (tagged) this.writeStructureTree();
    else this.writeText(this.structureTree, "null");
    this.writeText(
      this.catalog,
      `<< /Type /Catalog /Version /1.7 /Pages ${this.pageTree} 0 R /Lang ${hexText(language)} /ViewerPreferences << /DisplayDocTitle true >>${
        tagged ? ` /MarkInfo << /Marked true >> /StructTreeRoot ${this.structureTree} 0 R` : ""
      } >>`,
    );
    const start = this.file.position;
    const count = this.offsets.length;
    this.file.write(`xref\n0 ${count}\n0000000000 65535 f \n`);
    for (let i = 1; i < count; i += 1)
      this.file.write(`${String(this.offsets[i]).padStart(10, "0")} 00000 n \n`);
    this.file.write(
      `trailer\n<< /Size ${count} /Root ${this.catalog} 0 R /Info ${info} 0 R >>\nstartxref\n${start}\n%%EOF\n`,
    );
  }

  /** A new object number. */
  reserve(): number {
    return this.offsets.push(0) - 1;
  }

  writeObject(number: number, object: PDFObject): void {
    this.begin(number);
    const bytes = new Uint8Array(object.sizeInBytes());
    object.copyBytesInto(bytes, 0);
    this.file.write(bytes);
    this.file.write("\nendobj\n");
  }

  private writeText(number: number, text: string): void {
    this.begin(number);
    this.file.write(`${text}\nendobj\n`);
  }

  private begin(number: number): void {
    this.offsets[number] = this.file.position;
    this.file.write(`${number} 0 obj\n`);
  }

  private writeNode(node: number, kids: readonly number[]): void {
    const list = kids.map((k) => `${k} 0 R`).join(" ");
    this.writeText(
      node,
      `<< /Type /Pages /Parent ${this.pageTree} 0 R /Kids [${list}] /Count ${kids.length} >>`,
    );
    this.nodes.push(node);
    this.pageCount += kids.length;
  }

  private addStructure(source: PDFDocument, copy: Copy): void {
    const root = source.catalog.lookupMaybe(name("StructTreeRoot"), PDFDict);
    if (!root) return;
    const language = source.catalog.get(name("Lang"));
    const kids = root.lookup(name("K"));
    for (const kid of kids instanceof PDFArray ? kids.asArray() : [root.get(name("K"))]) {
      const element = source.context.lookup(kid);
      if (!(kid instanceof PDFRef) || !(element instanceof PDFDict)) continue;
      copy.setLater(element, "P", this.structureTree);
      if (language && !element.has(name("Lang"))) element.set(name("Lang"), language);
      this.structures.push(copy.numberOf(kid));
    }
    const roles = root.lookupMaybe(name("RoleMap"), PDFDict);
    for (const [key, value] of roles?.entries() ?? []) this.roles.set(key.asString(), String(value));
    this.addParents(root, copy);
  }

  private addParents(root: PDFDict, copy: Copy): void {
    const entries: string[] = [];
    let last = -1;
    const walk = (node: PDFDict | undefined) => {
      const nums = node?.lookupMaybe(name("Nums"), PDFArray)?.asArray() ?? [];
      for (let i = 0; i + 1 < nums.length; i += 2) {
        const key = nums[i];
        const value = nums[i + 1];
        if (!(key instanceof PDFNumber) || value === undefined) continue;
        last = Math.max(last, key.asNumber());
        entries.push(`${key.asNumber() + this.nextParent} ${copy.renumbered(value).toString()}`);
      }
      for (const kid of node?.lookupMaybe(name("Kids"), PDFArray)?.asArray() ?? []) {
        const below = root.context.lookup(kid);
        if (below instanceof PDFDict) walk(below);
      }
    };
    walk(root.lookupMaybe(name("ParentTree"), PDFDict));
    if (last < 0) return;
    const ref = this.reserve();
    const first = this.nextParent;
    this.writeText(ref, `<< /Limits [${first} ${first + last}] /Nums [${entries.join(" ")}] >>`);
    this.parents.push(ref);
    this.nextParent += last + 1;
  }

  private writeStructureTree(): void {
    const leaves = this.parents.map((p) => `${p} 0 R`).join(" ");
    const parentTree = this.reserve();
    this.writeText(parentTree, `<< /Kids [${leaves}] >>`);
    const roles = [...this.roles].map(([from, to]) => `${from} ${to}`).join(" ");
    this.writeText(
      this.structureTree,
      `<< /Type /StructTreeRoot /K [${this.structures.map((s) => `${s} 0 R`).join(" ")}] /ParentTree ${parentTree} 0 R /ParentTreeNextKey ${this.nextParent}${roles ? ` /RoleMap << ${roles} >>` : ""} >>`,
    );
  }
}

/** The objects of one source under the numbers they have in the joined file. */
class Copy {
  private readonly numbers = new Map<PDFRef, number>();
  private readonly waiting: PDFRef[] = [];
  private readonly later = new Map<PDFObject, { readonly key: PDFName; readonly number: number }>();

  constructor(
    private readonly source: PDFDocument,
    private readonly target: JoinedPdf,
  ) {}

  numberOf(ref: PDFRef): number {
    const known = this.numbers.get(ref);
    if (known !== undefined) return known;
    const number = this.target.reserve();
    this.numbers.set(ref, number);
    this.waiting.push(ref);
    return number;
  }

  /** Takes a reference out now, so that it is not followed, and puts one to an object of the joined file in its place. */
  setLater(dict: PDFDict, key: string, number: number): void {
    dict.delete(name(key));
    this.later.set(dict, { key: name(key), number });
  }

  /** The object with every reference in it renumbered; arrays and dictionaries are changed in place. */
  renumbered(object: PDFObject): PDFObject {
    if (object instanceof NewRef) return object;
    if (object instanceof PDFRef) return new NewRef(this.numberOf(object));
    if (object instanceof PDFArray) {
      for (const [i, item] of object.asArray().entries()) object.set(i, this.renumbered(item));
    } else if (object instanceof PDFStream) this.renumbered(object.dict);
    else if (object instanceof PDFDict) {
      for (const [key, value] of object.entries()) object.set(key, this.renumbered(value));
      const own = this.later.get(object);
      if (own) object.set(own.key, new NewRef(own.number));
    }
    return object;
  }

  /** Writes everything that has been given a number, and all it refers to. */
  writeAll(): void {
    for (let ref = this.waiting.pop(); ref !== undefined; ref = this.waiting.pop()) {
      const object = this.source.context.lookup(ref);
      const number = this.numberOf(ref);
      this.target.writeObject(number, object ? this.renumbered(object) : PDFNull);
    }
  }
}

/** A reference in the joined file. The library keeps every reference of its own for good, which would grow with the letters. */
class NewRef extends PDFObject {
  constructor(private readonly number: number) {
    super();
  }

  override toString(): string {
    return `${this.number} 0 R`;
  }

  override sizeInBytes(): number {
    return this.toString().length;
  }

  override copyBytesInto(buffer: Uint8Array, offset: number): number {
    const text = this.toString();
    for (let i = 0; i < text.length; i += 1) buffer[offset + i] = text.charCodeAt(i);
    return text.length;
  }
}

/** Text as UTF-16, which every reader takes. */
function hexText(text: string): string {
  const bytes = Buffer.from(`\ufeff${text}`, "utf16le").swap16();
  return `<${bytes.toString("hex")}>`;
}

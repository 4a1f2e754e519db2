/** Changes planted in finished documents, with the manifest signed anew, so that content alone decides. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { deflateSync, inflateSync } from "node:zlib";
import { beforeAll, describe, expect, it } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { sha256 } from "../../src/base/sha256.js";
import { Jobs, type MadeFile, type VisitToRead } from "../../src/batch/job.js";
import { makeDocuments } from "../../src/batch/make.js";
import { lookAround, prepareFile } from "../../src/batch/prepare.js";
import { drawsTheSame } from "../../src/batch/proof/redrawn.js";
import type { Letter } from "../../src/letter/document.js";
import { renderPdf } from "../../src/page/pdf.js";
import {
  PDFArray,
  PDFDict,
  PDFDocument,
  PDFName,
  PDFNumber,
  PDFRef,
  PDFStream,
} from "../../src/page/pdf-lib.js";
import { exampleFiles, knowledge } from "../examples/all-examples.js";
import { some } from "../runs.js";
import { scratch } from "./command.js";

const TODAY = "2027-01-01";
const KINDS = ["referral-letter", "handout", "progress-sheet"];
/** A follow-up with counts, a map, charts, a photo's earlier visit, tests and a plan. */
const FILE = inPackage("examples", "patients", "TS-40417", "2026-06-04.yaml");
/** Has a photo. */
const FIRST = inPackage("examples", "patients", "TS-40417", "2026-03-12.yaml");
const clinicFile = inPackage("examples", "clinic.yaml");
const jobs = new Jobs({ documents: KINDS, drafts: true, proof: true, today: TODAY, people: [] });

function toRead(file: string): VisitToRead {
  const { around } = lookAround([file], { knowledge, today: TODAY });
  return { file, beside: around.visits.beside(file), clinicFile, overrides: {} };
}

const made = new Map<string, MadeFile>();
const letters = new Map<string, Letter>();

beforeAll(async () => {
  for (const file of [FILE, FIRST]) {
    const outcome = await jobs.make(toRead(file));
    expect(outcome.reasons).toEqual([]);
    for (const one of outcome.files) made.set(one.name, one);
    const { around } = lookAround([file], { knowledge, today: TODAY });
    const { value, clinic } = prepareFile(file, around);
    if (!value || !clinic) throw new Error("the example cannot be made");
    const documents = await makeDocuments(value.examined, {
      knowledge,
      clinic,
      documents: KINDS,
      format: "pdf",
      ...(value.change ? { overrides: { change: value.change } } : {}),
    });
    for (const one of documents.made) letters.set(one.name, one.letter);
  }
});

const LETTER = "TS-2026-0388-referral-letter.pdf";
const HANDOUT = "TS-2026-0388-handout.pdf";
const PROGRESS = "TS-2026-0388-progress-sheet.pdf";
const PHOTO = "TS-2026-0141-referral-letter.pdf";

/** A document as the folder would have it, its hash and pages in the manifest set right. */
async function inFolder(name: string, bytes: Uint8Array) {
  const one = made.get(name);
  if (!one) throw new Error(`${name} is not among ${[...made.keys()].join(", ")}`);
  const path = join(scratch(), name);
  writeFileSync(path, bytes);
  const pages = (await PDFDocument.load(bytes, { updateMetadata: false })).getPageCount();
  return { path, record: { ...one.record, file: name, sha256: sha256(bytes), pages } };
}

/** Faults of documents of one visit, which is read once for all of them. */
async function faultsOfAll(documents: readonly (readonly [string, Uint8Array])[]): Promise<string[][]> {
  const [first] = documents;
  const file = first?.[0].startsWith("TS-2026-0141") ? FIRST : FILE;
  const all = await Promise.all(documents.map(([name, bytes]) => inFolder(name, bytes)));
  const faults = await jobs.proof(toRead(file), all);
  return faults.map((of) => [...new Set(of.map((f) => f.id))]);
}

const bytesOf = (name: string) => made.get(name)?.bytes ?? new Uint8Array();

/** The document with its words or drawings edited, set anew as ours. */
async function reset(name: string, edit: (html: string) => string): Promise<Uint8Array> {
  const letter = letters.get(name);
  if (!letter) throw new Error(name);
  const html = edit(letter.html);
  if (html === letter.html) throw new Error("the edit changed nothing");
  const { value, problems } = await renderPdf({ ...letter, html });
  if (!value) throw new Error(problems.map((p) => p.message).join());
  return value.bytes;
}

/** The document changed as a file. */
async function changed(
  name: string,
  change: (pdf: PDFDocument) => Promise<void> | void,
): Promise<Uint8Array> {
  const pdf = await PDFDocument.load(bytesOf(name), { updateMetadata: false });
  await change(pdf);
  return pdf.save({ useObjectStreams: false });
}

const page = (pdf: PDFDocument, n = 0) => pdf.getPages()[n] ?? pdf.getPage(0);

/** Adds operators to a page, after or before its own. */
function draw(pdf: PDFDocument, operators: string, before = false): void {
  const stream = pdf.context.register(pdf.context.flateStream(operators));
  const node = page(pdf).node;
  const own = node.get(PDFName.of("Contents"));
  const kept = own instanceof PDFArray ? own.asArray() : own ? [own] : [];
  node.set(PDFName.of("Contents"), pdf.context.obj(before ? [stream, ...kept] : [...kept, stream]));
}

/** Rewrites the operators of a page. */
function rewrite(pdf: PDFDocument, change: (operators: string) => string): void {
  const node = page(pdf).node;
  const ref = node.get(PDFName.of("Contents"));
  const stream = pdf.context.lookup(ref instanceof PDFArray ? ref.get(0) : ref);
  if (!(stream instanceof PDFStream) || !(ref instanceof PDFRef)) throw new Error("no operators");
  const before = inflateSync(stream.getContents()).toString("latin1");
  const after = change(before);
  if (after === before) throw new Error("the operators are as before");
  pdf.context.assign(ref, pdf.context.flateStream(Buffer.from(after, "latin1")));
}

type Put = string | ((...found: string[]) => string);
const set = (html: string, from: string | RegExp, to: Put) =>
  typeof to === "string" ? html.replace(from, to) : html.replace(from, to);
const firstNumber = (html: string, sign: RegExp, to: string) => html.replace(sign, to);

type Plant = readonly [string, string, () => Promise<Uint8Array> | Uint8Array];

const WORDS: readonly Plant[] = [
  [
    "a decimal point taken for a comma",
    PROGRESS,
    () => reset(PROGRESS, (h) => firstNumber(h, /(>[^<]*\d)\.(\d)/u, "$1,$2")),
  ],
  [
    "a decimal point left out by a space",
    PROGRESS,
    () => reset(PROGRESS, (h) => firstNumber(h, /(>[^<]*\d)\.(\d)/u, "$1 $2")),
  ],
  ["a per cent sign left out", LETTER, () => reset(LETTER, (h) => set(h, /(>[^<]*\d)[\s\u00a0]?%/u, "$1"))],
  [
    "a per mille for a per cent",
    LETTER,
    () => reset(LETTER, (h) => set(h, /(>[^<]*\d[\s\u00a0]?)%/u, "$1‰")),
  ],
  ["a plus before a number", LETTER, () => reset(LETTER, (h) => set(h, /(>[^<]* )(\d+ of)/u, "$1+$2"))],
  ["a minus before a number", LETTER, () => reset(LETTER, (h) => set(h, /(>[^<]* )(\d+ of)/u, "$1−$2"))],
  [
    "a less-than before a number",
    LETTER,
    () => reset(LETTER, (h) => set(h, /(>[^<]* )(\d+ of)/u, "$1&lt;$2")),
  ],
  [
    "a greater-than before a number",
    LETTER,
    () => reset(LETTER, (h) => set(h, /(>[^<]* )(\d+ of)/u, "$1&gt;$2")),
  ],
  ["a slash between two numbers", LETTER, () => reset(LETTER, (h) => set(h, /(\d+) of (\d+)/u, "$1/$2"))],
  [
    "a question mark after a finding",
    LETTER,
    () => reset(LETTER, (h) => set(h, /(exclamation mark hairs)/u, "$1?")),
  ],
  [
    "brackets around a word",
    LETTER,
    () =>
      reset(LETTER, (h) =>
        set(h, "alopecia areata", "(alopecia areata)").replace("Alopecia areata", "(Alopecia areata)"),
      ),
  ],
  ["a digit of the birth date", LETTER, () => reset(LETTER, (h) => set(h, "1991", "1997"))],
  ["a name", HANDOUT, () => reset(HANDOUT, (h) => set(h, "Solheim", "Solhelm"))],
  ["a unit", LETTER, () => reset(LETTER, (h) => set(h, /\bmm\b/u, "cm"))],
  ["a side", LETTER, () => reset(LETTER, (h) => set(h, /[Ll]eft parietal/u, "Right parietal"))],
  ["a word left out", LETTER, () => reset(LETTER, (h) => set(h, /\bno /u, ""))],
  [
    "two cells exchanged",
    LETTER,
    () =>
      reset(LETTER, (h) =>
        set(h, /<td>([^<]{5,}?)<\/td>(\s*)<td>([^<]{5,}?)<\/td>/u, "<td>$3</td>$2<td>$1</td>"),
      ),
  ],
  ["a paragraph doubled", HANDOUT, () => reset(HANDOUT, (h) => set(h, /(<p>[^<]{20,}<\/p>)/u, "$1$1"))],
];

const DRAWN: readonly Plant[] = [
  [
    "a place of the map mirrored",
    LETTER,
    () =>
      reset(
        LETTER,
        (h) =>
          set(h, /cx="([\d.]+)"/u, (_: string, x: string) => `cx="${(Number(x) + 9).toFixed(1)}"`) as string,
      ),
  ],
  ["a patch of the map larger", LETTER, () => reset(LETTER, (h) => set(h, /\brx="([\d.]+)"/u, 'rx="25"'))],
  [
    "a shade of the map another",
    LETTER,
    () => reset(LETTER, (h) => set(h, /fill="#([0-9a-f]{6})"/u, 'fill="#123456"')),
  ],
  ["a drawing taken out", LETTER, () => reset(LETTER, (h) => set(h, /<figure[\s\S]*?<\/figure>/u, ""))],
  [
    "a line drawn through the text",
    LETTER,
    () => changed(LETTER, (pdf) => draw(pdf, "q 2 w 50 600 m 500 600 l S Q")),
  ],
  [
    "a white box over the page",
    LETTER,
    () => changed(LETTER, (pdf) => draw(pdf, "q 1 1 1 rg 40 300 500 300 re f Q")),
  ],
  [
    "a white box over one figure",
    LETTER,
    () => changed(LETTER, (pdf) => draw(pdf, "q 1 1 1 rg 200 500 8 10 re f Q")),
  ],
  [
    "everything clipped away but a corner",
    LETTER,
    () => changed(LETTER, (pdf) => draw(pdf, "0 0 100 100 re W n", true)),
  ],
  ["everything drawn smaller", LETTER, () => changed(LETTER, (pdf) => draw(pdf, "0.5 0 0 0.5 0 0 cm", true))],
  ["everything mirrored", LETTER, () => changed(LETTER, (pdf) => draw(pdf, "-1 0 0 1 595 0 cm", true))],
  [
    "the ink made white",
    LETTER,
    () =>
      changed(LETTER, (pdf) =>
        rewrite(pdf, (o) => o.replaceAll(/(?<=\n|^)[\d.]+ [\d.]+ [\d.]+ (rg|scn)\b/gu, "1 1 1 $1")),
      ),
  ],
  [
    "text made invisible",
    LETTER,
    () => changed(LETTER, (pdf) => rewrite(pdf, (o) => o.replaceAll("BT\n", "BT\n3 Tr\n"))),
  ],
  [
    "a page turned by 90",
    LETTER,
    () => changed(LETTER, (pdf) => page(pdf).node.set(PDFName.of("Rotate"), PDFNumber.of(90))),
  ],
  [
    "a page turned by 180",
    LETTER,
    () => changed(LETTER, (pdf) => page(pdf).node.set(PDFName.of("Rotate"), PDFNumber.of(180))),
  ],
  [
    "all pages turned",
    LETTER,
    () =>
      changed(LETTER, (pdf) => {
        for (const p of pdf.getPages()) p.node.set(PDFName.of("Rotate"), PDFNumber.of(270));
      }),
  ],
  [
    "a page cropped",
    LETTER,
    () =>
      changed(LETTER, (pdf) =>
        page(pdf).node.set(PDFName.of("CropBox"), pdf.context.obj([0, 200, 595.28, 841.89])),
      ),
  ],
  [
    "a page of another size",
    LETTER,
    () =>
      changed(LETTER, (pdf) => page(pdf).node.set(PDFName.of("MediaBox"), pdf.context.obj([0, 0, 612, 792]))),
  ],
  [
    "a page scaled by its unit",
    LETTER,
    () => changed(LETTER, (pdf) => page(pdf).node.set(PDFName.of("UserUnit"), PDFNumber.of(2))),
  ],
  [
    "a note laid over the page",
    LETTER,
    () =>
      changed(LETTER, (pdf) => {
        const note = pdf.context.register(
          pdf.context.obj({
            Type: "Annot",
            Subtype: "Square",
            Rect: [40, 300, 540, 600],
            IC: [1, 1, 1],
            C: [1, 1, 1],
          }),
        );
        page(pdf).node.set(PDFName.of("Annots"), pdf.context.obj([note]));
      }),
  ],
  [
    "a picture exchanged for another",
    PHOTO,
    () =>
      changed(PHOTO, (pdf) => {
        for (const [ref, o] of pdf.context.enumerateIndirectObjects())
          if (o instanceof PDFStream && o.dict.get(PDFName.of("Subtype")) === PDFName.of("Image")) {
            const bytes = Buffer.from(o.getContents());
            bytes[bytes.length >> 1] = (bytes[bytes.length >> 1] ?? 0) ^ 0x55;
            pdf.context.assign(
              ref,
              pdf.context.stream(
                bytes,
                Object.fromEntries(o.dict.entries().map(([k, v]) => [k.asString().slice(1), v])),
              ),
            );
          }
      }),
  ],
  [
    "a picture turned into none",
    PHOTO,
    () =>
      changed(PHOTO, (pdf) => {
        for (const [ref, o] of pdf.context.enumerateIndirectObjects())
          if (o instanceof PDFStream && o.dict.get(PDFName.of("Subtype")) === PDFName.of("Image"))
            pdf.context.delete(ref);
      }),
  ],
  [
    "a typeface exchanged",
    LETTER,
    () =>
      changed(LETTER, (pdf) => {
        const fonts = pdf.context
          .enumerateIndirectObjects()
          .filter(([, o]) => o instanceof PDFDict && o.has(PDFName.of("FontFile2")));
        const [first, second] = fonts.map(([, o]) => o as PDFDict);
        const other = second?.get(PDFName.of("FontFile2"));
        if (!other || !first) throw new Error("one typeface only");
        first.set(PDFName.of("FontFile2"), other);
      }),
  ],
  [
    "pages in another order",
    LETTER,
    () =>
      changed(LETTER, (pdf) => {
        const kids = pdf.catalog.lookup(PDFName.of("Pages"), PDFDict).lookup(PDFName.of("Kids"), PDFArray);
        const [a, b] = [kids.get(0), kids.get(1)];
        kids.set(0, b);
        kids.set(1, a);
      }),
  ],
  ["a page left out", LETTER, () => changed(LETTER, (pdf) => pdf.removePage(1))],
  [
    "a page twice",
    LETTER,
    () =>
      changed(LETTER, async (pdf) => {
        const [copy] = await pdf.copyPages(pdf, [0]);
        if (copy) pdf.insertPage(1, copy);
      }),
  ],
  [
    "a blank page between",
    LETTER,
    () =>
      changed(LETTER, (pdf) => {
        pdf.insertPage(1, [595.28, 841.89]);
      }),
  ],
  ["another patient's letter", LETTER, () => bytesOf(PHOTO)],
];

/** Every other one of the words, and all of them with `WHORL_RUNS=1`; each way of drawing has a fault of its own. */
const FOUND = [...some(WORDS, 0.5), ...DRAWN];

/** Pages turned and cut in ways that show, and in ways that do not. */
const TURNED: readonly Plant[] = (
  [
    ["Rotate", 360],
    ["MediaBox", [10, 10, 605.28, 851.89]],
    ["CropBox", [0, 0, 595.28, 841.89]],
  ] as const
).map(([key, value]) => [
  `${key} ${value}`,
  LETTER,
  () => changed(LETTER, (pdf) => page(pdf).node.set(PDFName.of(key), pdf.context.obj(value as never))),
]);

/** Each plant is set and proofed once, for all that is asked of it. */
const told = new Map<string, readonly string[]>();
beforeAll(async () => {
  const plants = [...FOUND, ...TURNED];
  for (const ofPhoto of [true, false]) {
    const here = plants.filter(([, name]) => (name === PHOTO) === ofPhoto);
    const documents: (readonly [string, Uint8Array])[] = [];
    for (const [, name, plant] of here) documents.push([name, await plant()]);
    for (const [i, faults] of (await faultsOfAll(documents)).entries()) told.set(here[i]?.[0] ?? "", faults);
  }
});

describe("a document with", () => {
  it.each(FOUND)("%s is found", (what) => {
    expect(told.get(what)?.length).toBeGreaterThan(0);
  });

  it("a page turned, cut, moved or scaled is told as such", () => {
    expect(told.get("a page turned by 90")).toContain("page-turned");
    expect(told.get("Rotate 360")).not.toContain("page-turned");
    expect(told.get("a page cropped")).toContain("page-cut");
    expect(told.get("MediaBox 10,10,605.28,851.89")).toContain("page-cut");
    expect(told.get("a page scaled by its unit")).toContain("page-cut");
    expect(told.get("CropBox 0,0,595.28,841.89")).not.toContain("page-cut");
  });

  it("at least forty kinds of change", () => {
    expect(new Set([...WORDS, ...DRAWN].map(([what]) => what)).size).toBeGreaterThanOrEqual(40);
  });
});

/** The first eleven of the words. */
const SIGNS = WORDS.slice(0, 11);

describe("signs alone", () => {
  it.each(FOUND.filter((plant) => SIGNS.includes(plant)))("%s is told as such, or as words", (what) => {
    expect(told.get(what)?.some((id) => /signs-differ|text-/u.test(id))).toBe(true);
  });
});

describe("no alarm is raised", () => {
  it("by the documents as made", async () => {
    for (const id of ["TS-2026-0141", "TS-2026-0388"]) {
      const names = [...made.keys()].filter((name) => name.startsWith(id));
      expect(names.length).toBeGreaterThan(1);
      const faults = await faultsOfAll(names.map((name) => [name, bytesOf(name)]));
      expect(faults).toEqual(names.map(() => []));
    }
  });

  it("by any example", async () => {
    const settings = { documents: [...KINDS, "reasoning-sheet"], drafts: true, proof: true, today: TODAY };
    const all = new Jobs({ ...settings, people: [] });
    // One in ten; all of them with `WHORL_RUNS=1`.
    for (const file of some(exampleFiles, 0.1)) {
      const { reasons } = await all.make(toRead(file));
      expect([file, reasons.filter((r) => r.id !== "address-differs")]).toEqual([file, []]);
    }
  });

  it("by streams packed in another way, as another build of Node would", () => {
    const bytes = Buffer.from(bytesOf(LETTER));
    const repacked = repack(bytes);
    const altered = repack(bytes, (data) =>
      Buffer.from(data.toString("latin1").replace(/ l\n/u, " m\n"), "latin1"),
    );
    expect(drawsTheSame(altered, bytes)).toBe(false);
    expect(repacked.equals(bytes)).toBe(false);
    expect(drawsTheSame(repacked, bytes)).toBe(true);
    expect(drawsTheSame(bytes.subarray(0, bytes.length - 20), bytes)).toBe(false);
    const moved = Buffer.from(
      bytes.toString("latin1").replace(/\n0{7}\d{3} 00000 n/u, "\n0000000015 00000 n"),
      "latin1",
    );
    expect(moved.equals(bytes)).toBe(false);
    expect(drawsTheSame(moved, bytes)).toBe(false);
  });
});

/** The same objects, their streams packed loosely, with the table of objects to match. */
function repack(bytes: Buffer, alter = (data: Buffer) => data): Buffer {
  const text = bytes.toString("latin1");
  const objects = new Map<number, Buffer>();
  const table = text.lastIndexOf("\nxref\n");
  const entries = text.slice(table + 6).split("\n");
  const count = Number(entries[0]?.split(" ")[1]);
  const offsets = Array.from({ length: count - 1 }, (_, i) => Number(entries[i + 2]?.slice(0, 10)));
  const ends = [...offsets, table + 1].sort((a, b) => a - b);
  for (const [i, offset] of offsets.entries()) {
    const whole = bytes.subarray(
      offset,
      ends.find((e) => e > offset),
    );
    const head = /^[\s\S]*?>>\s*stream\r?\n/u.exec(whole.toString("latin1"))?.[0];
    const length = Number(/\/Length (\d+)/u.exec(head ?? "")?.[1]);
    if (!head?.includes("/FlateDecode") || !Number.isInteger(length)) {
      objects.set(i + 1, whole);
      continue;
    }
    const data = deflateSync(alter(inflateSync(whole.subarray(head.length, head.length + length))), {
      level: 1,
    });
    const newHead = Buffer.from(head.replace(/\/Length \d+/u, `/Length ${data.length}`), "latin1");
    objects.set(i + 1, Buffer.concat([newHead, data, whole.subarray(head.length + length)]));
  }
  const byPlace = [...offsets.keys()].sort((a, b) => (offsets[a] ?? 0) - (offsets[b] ?? 0));
  let at = Math.min(...offsets);
  const pieces = [bytes.subarray(0, at)];
  const places = new Map<number, number>();
  for (const i of byPlace) {
    const object = objects.get(i + 1) ?? Buffer.alloc(0);
    places.set(i + 1, at);
    pieces.push(object);
    at += object.length;
  }
  const lines = Array.from(
    { length: count - 1 },
    (_, i) => `${String(places.get(i + 1)).padStart(10, "0")} 00000 n \n`,
  );
  const trailer = text.slice(text.indexOf("trailer", table)).replace(/startxref\n\d+/u, `startxref\n${at}`);
  pieces.push(Buffer.from(`xref\n0 ${count}\n0000000000 65535 f \n${lines.join("")}${trailer}`, "latin1"));
  return Buffer.concat(pieces);
}

import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { PDFArray, PDFDict, PDFDocument, PDFName, PDFNumber } from "@cantoo/pdf-lib";
import { beforeAll, describe, expect, it } from "vitest";
import { sha256 } from "../../src/base/sha256.js";
import type { MadeDocument } from "../../src/batch/make.js";
import type { Manifest, ManifestDocument } from "../../src/batch/manifest.js";
import { postalCode } from "../../src/batch/postal-code.js";
import { PRINT_RUN_MARK } from "../../src/batch/print-run/mark.js";
import { printOrder } from "../../src/batch/print-run/order.js";
import { makePrintRun, NotAsMade, type PrintRunOptions } from "../../src/batch/print-run/print-run.js";
import { isPrintRun, proofRun } from "../../src/batch/proof/proof-run.js";
import { readPdf, textOf } from "../../src/batch/proof/read-pdf.js";
import { filesBelow, scratch } from "./command.js";
import { documentOf, MARIT, OTHER, prepared } from "./proof-fixture.js";

let made: MadeDocument[];
let folder: string;

beforeAll(async () => {
  folder = scratch();
  const [a, b] = [prepared(MARIT), prepared(OTHER)];
  made = [
    await documentOf(a, "referral-letter"),
    await documentOf(b, "referral-letter"),
    await documentOf(a, "handout"),
    await documentOf(b, "reasoning-sheet"),
  ];
  for (const d of made) writeFileSync(join(folder, d.name), d.bytes);
});

const row = (d: MadeDocument, place: number, changed: Partial<ManifestDocument> = {}): ManifestDocument => ({
  visit: d.visit,
  patient: d.patient,
  document: d.kind,
  recipient: d.recipient && {
    index: 0,
    name: d.recipient.name,
    role: d.recipient.role,
    copy: false,
    postal_code: postalCode(d.recipient.address),
  },
  file: d.name,
  pages: d.pages,
  sha256: d.sha256,
  paper: d.letter.paper,
  state: "ready",
  faults: [],
  source: `v${place}.yaml`,
  place,
  ...changed,
});
const manifest = (documents: ManifestDocument[]): Manifest => ({
  format: 1,
  whorl: "0",
  settings: { documents: [], drafts: false },
  source: folder,
  worklist: { visits: 1, sha256: "" },
  shard: null,
  totals: { visits: 1, made: 1, unchanged: 0, waiting: 0, failed: 0, documents: documents.length },
  documents,
  visits: [],
  waiting: [],
  failures: [],
  notices: [],
});
const options = (changed: Partial<PrintRunOptions> = {}): PrintRunOptions => ({
  file: join(scratch(), "run.pdf"),
  order: "worklist",
  duplex: false,
  separators: false,
  date: "2027-01-04",
  ...changed,
});
const rows = () => made.map((d, i) => row(d, i));
const textsOf = async (file: string) =>
  ((await readPdf(readFileSync(file))) ?? []).map((page) => textOf(page.runs).replace(/\s+/gu, " "));

describe("posting order", () => {
  const letter = (name: string, code: string, place: number) => {
    const [first] = rows();
    if (!first?.recipient) throw new Error("no letter");
    return { ...first, place, file: `${place}`, recipient: { ...first.recipient, name, postal_code: code } };
  };
  const letters = () => [
    letter("Dr Zoe Abel", "TS9 1AA", 0),
    letter("Dr Ada Zorn", "", 1),
    letter("Dr Ben Abel", "TS1 1AA", 2),
    letter("Dr Zoe Abel", "TS9 1AA", 3),
  ];

  it.each([
    ["worklist", "0 1 2 3"],
    ["recipient", "2 0 3 1"],
    ["postal-code", "2 0 3 1"],
  ] as const)("%s", (order, expected) => {
    const { documents } = printOrder(manifest(letters()), { order });
    expect(documents.map((d) => d.file).join(" ")).toBe(expected);
  });

  it("leaves out what was sent by the moment asked for, and keeps what was sent after it", () => {
    const moment = "2027-01-04T09:00:00.000Z";
    const [a, b, c] = letters();
    if (!a || !b || !c) throw new Error("too few letters");
    const sent = [
      { ...a, closed_at: moment },
      { ...b, closed_at: "2027-01-04T09:00:00.001Z" },
      { ...c, closed_at: "2027-01-04T08:59:59.999Z" },
    ];
    const run = printOrder(manifest(sent), { order: "worklist", since: moment });
    expect(run.documents.map((d) => d.file)).toEqual(["1"]);
    expect(run.closed).toBe(2);
  });

  it("leaves out drafts, what was set aside and what is for the clinician; sheets without address come last", () => {
    const [a, b, handout, sheet] = rows();
    if (!a || !b || !handout || !sheet) throw new Error("too few documents");
    const all = [handout, sheet, { ...b, state: "draft" as const }, a, { ...b, state: "set aside" as const }];
    const { documents, leftOut } = printOrder(manifest(all), { order: "worklist" });
    expect(documents.map((d) => d.document)).toEqual(["referral-letter", "handout"]);
    expect(leftOut).toBe(3);
  });
});

describe("a print run", () => {
  it("holds an index and every page of every document, in order", async () => {
    const o = options();
    const result = await makePrintRun(folder, manifest(rows()), o);
    const texts = await textsOf(o.file);
    expect(result).toMatchObject({ letters: 3, pages: texts.length, leftOut: 1, closed: 0 });
    const [a, b, handout] = made;
    if (!a || !b || !handout) throw new Error("too few documents");
    expect(texts).toHaveLength(1 + a.pages + b.pages + handout.pages);
    expect(texts[0]).toContain("Print run index");
    expect(texts[0]).toContain(`2\u2013${1 + a.pages}`);
    const own = (await readPdf(a.bytes))?.map((p) => textOf(p.runs).replace(/\s+/gu, " ")) ?? [];
    expect(texts.slice(1, 1 + a.pages)).toEqual(own);
    for (const text of texts.slice(1 + a.pages, 1 + a.pages + b.pages)) expect(text).toContain(b.patient);
  });

  it("two-sided, starts every document on a front side, on the page that the index says", async () => {
    const many = [0, 1, 2, 3, 4, 5].map((i) => row(made[i % 3] as MadeDocument, i));
    const o = options({ duplex: true, separators: true, order: "recipient" });
    await makePrintRun(folder, manifest(many), o);
    const texts = await textsOf(o.file);
    const starts = texts.flatMap((text, i) => (/Page 1 of/u.test(text) ? [i + 1] : []));
    expect(starts.filter((page) => page % 2 === 0)).toEqual([]);
    const listed = [...(texts[0] ?? "").matchAll(/(?:letter|handout) (\d+)/gu)].map((m) => Number(m[1]));
    expect(listed).toHaveLength(6);
    for (const page of listed) expect(starts).toContain(page);
    expect(texts.filter((t) => t.includes("Print run separator"))).toHaveLength(3);
    expect(texts.some((t) => t.trim() === "")).toBe(true);
  });

  it("keeps every letter tagged and its structure its own", async () => {
    const o = options();
    await makePrintRun(folder, manifest(rows()), o);
    const document = await PDFDocument.load(readFileSync(o.file));
    const root = document.catalog.lookup(PDFName.of("StructTreeRoot"), PDFDict);
    expect(root.lookup(PDFName.of("K"), PDFArray).size()).toBe(4);
    const keys = document
      .getPages()
      .map((p) => p.node.lookupMaybe(PDFName.of("StructParents"), PDFNumber)?.asNumber());
    expect(new Set(keys).size).toBe(keys.length);
    const leaves = root.lookup(PDFName.of("ParentTree"), PDFDict).lookup(PDFName.of("Kids"), PDFArray);
    for (const [i, page] of document.getPages().entries()) {
      const key = keys[i] ?? -1;
      const leaf = leaves
        .asArray()
        .map((kid) => document.context.lookup(kid, PDFDict))
        .find((l) => {
          const limits = l.lookup(PDFName.of("Limits"), PDFArray);
          return (
            limits.lookup(0, PDFNumber).asNumber() <= key && key <= limits.lookup(1, PDFNumber).asNumber()
          );
        });
      const nums = leaf?.lookup(PDFName.of("Nums"), PDFArray);
      const at =
        nums?.asArray().findIndex((n, j) => j % 2 === 0 && n instanceof PDFNumber && n.asNumber() === key) ??
        -1;
      const elements = nums?.lookup(at + 1, PDFArray);
      const element = elements?.lookup(0, PDFDict);
      expect(element?.get(PDFName.of("Pg")) ?? page.ref, `page ${i + 1}`).toBe(page.ref);
      expect(element?.get(PDFName.of("Type"))).toBe(PDFName.of("StructElem"));
    }
  });

  it("is marked, for its owner only, and the same for the same letters", async () => {
    const [a, b] = [options(), options()];
    await makePrintRun(folder, manifest(rows()), { ...a, since: "2027-01-04T09:00:00.000Z" });
    await makePrintRun(folder, manifest(rows()), { ...b, since: "2027-01-04T10:00:00.000Z" });
    expect(readFileSync(a.file).equals(readFileSync(b.file))).toBe(true);
    expect(readFileSync(a.file).subarray(0, 64).includes(PRINT_RUN_MARK)).toBe(true);
  });

  it("is not written when a letter is not the one that was proofed", async () => {
    const o = options();
    writeFileSync(o.file, "yesterday's");
    const broken = rows().map((r, i) => (i === 1 ? { ...r, sha256: "0".repeat(64) } : r));
    await expect(makePrintRun(folder, manifest(broken), o)).rejects.toBeInstanceOf(NotAsMade);
    const gone = rows().map((r, i) => (i === 1 ? { ...r, file: "gone.pdf" } : r));
    await expect(makePrintRun(folder, manifest(gone), o)).rejects.toBeInstanceOf(NotAsMade);
    expect(readFileSync(o.file, "utf8")).toBe("yesterday's");
    expect(filesBelow(join(o.file, ".."))).toEqual(["run.pdf"]);
  });

  it("of nothing is an index of nothing", async () => {
    const o = options();
    expect(await makePrintRun(folder, manifest([]), o)).toMatchObject({ letters: 0, pages: 1 });
  });

  it("splits a long index into parts that agree with the pages", async () => {
    const short = await PDFDocument.create();
    short.addPage().drawText("short");
    const bytes = await short.save();
    writeFileSync(join(folder, "short.pdf"), bytes);
    const [letter] = rows();
    if (!letter) throw new Error("no letter");
    const a = { ...letter, file: "short.pdf", pages: 1, sha256: sha256(bytes) };
    const o = options();
    const result = await makePrintRun(
      folder,
      manifest(Array.from({ length: 260 }, (_, i) => ({ ...a, place: i }))),
      o,
    );
    const texts = await textsOf(o.file);
    const index = texts.filter((t) => t.includes("Print run index, part"));
    expect(index.some((t) => t.includes("part 2 of 2"))).toBe(true);
    expect(result.pages).toBe(index.length + 260);
    expect(index.at(-1)).toMatch(new RegExp(`260 .* ${result.pages} `, "u"));
  });
});

describe("a print run read back", () => {
  /** A run of letters and a handout, two-sided, kept on disk; what a change to it is said to be. */
  const proofed = async (change: (bytes: Buffer) => Uint8Array | Promise<Uint8Array>) => {
    const o = options({ duplex: true, separators: true, order: "recipient" });
    await makePrintRun(folder, manifest(rows()), o);
    writeFileSync(o.file, await change(readFileSync(o.file)));
    const found = isPrintRun(o.file) ? await proofRun(folder, manifest(rows()), o.file) : undefined;
    return found?.map(({ id }) => id);
  };
  /** The run with its pages in another order, still marked as a print run. */
  const reordered = (order: (pages: number[]) => number[]) => async (bytes: Buffer) => {
    const whole = await PDFDocument.load(bytes);
    const other = await PDFDocument.create();
    for (const page of await other.copyPages(whole, order(whole.getPageIndices()))) other.addPage(page);
    const mark = /^%whorl-print-run .*$/mu.exec(bytes.subarray(0, 400).toString("latin1"))?.[0] ?? "";
    const text = Buffer.from(await other.save({ useObjectStreams: false })).toString("latin1");
    return Buffer.from(text.replace("\n", `\n${mark}\n`), "latin1");
  };

  it("is good as it was made", async () => {
    expect(await proofed((bytes) => bytes)).toEqual([]);
  });

  it.each([
    ["every page kept, written by another program", reordered((pages) => pages)],
    ["two pages exchanged", reordered(([a = 0, b = 0, c = 0, ...rest]) => [a, c, b, ...rest])],
    ["the last page gone", reordered((pages) => pages.slice(0, -1))],
    [
      "a blank back gone, so that fronts and backs change places",
      reordered((pages) => pages.filter((p) => p !== 1)),
    ],
    ["a page twice", reordered((pages) => [...pages, pages.length - 1])],
    ["cut off before its end", (bytes: Buffer) => bytes.subarray(0, -200)],
    ["cut off in the middle", (bytes: Buffer) => bytes.subarray(0, bytes.length >> 1)],
    ["something after its end", (bytes: Buffer) => Buffer.concat([bytes, Buffer.from("%")])],
    [
      "said to be printed on one side",
      (bytes: Buffer) =>
        Buffer.from(bytes.toString("latin1").replace('"duplex":true', '"duplex":false'), "latin1"),
    ],
    [
      "its mark unreadable",
      (bytes: Buffer) =>
        Buffer.from(
          bytes.toString("latin1").replace('"order":"recipient"', '"order":"recipients"'),
          "latin1",
        ),
    ],
  ])("is bad with %s", async (_, change) => {
    const found = await proofed(change);
    expect(found).toEqual(["print-run-differs"]);
  });

  it("is no print run without its mark, and so a stranger among the letters", async () => {
    const bare = (bytes: Buffer) =>
      Buffer.from(bytes.toString("latin1").replace(PRINT_RUN_MARK, "%whorl-print-rum"), "latin1");
    expect(await proofed(bare)).toBeUndefined();
  });
});

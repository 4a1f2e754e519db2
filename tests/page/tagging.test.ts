/** The structure tree as a screen reader meets it. */
import {
  decodePDFRawStream,
  PDFArray,
  PDFDict,
  PDFDocument,
  PDFName,
  type PDFRawStream,
  PDFRef,
} from "@cantoo/pdf-lib";
import { expect, test } from "vitest";
import { allNodes, letterOf, outline, pagesOf, readBack, rendered } from "./read-back.js";
import { HANDOUT, REFERRAL } from "./sample-letter.js";

test("headings, paragraphs, lists, tables and figures stand in reading order", async () => {
  const [page] = await pagesOf(
    letterOf(`<h1>Title</h1><p>Words <a href="https://tarnsound.example">with a link</a> inside.</p>
      <h2>Part</h2><ol><li>First</li><li>Second</li></ol><ul><li>Point</li></ul>
      <table><caption>Counts</caption><thead><tr><th scope="col">Site</th><th scope="col">Dots</th></tr></thead>
      <tbody><tr><th scope="row">Nape</th><td>3</td></tr></tbody></table>
      <figure><svg width="20" height="20" role="img" aria-label="A dot"><circle cx="10" cy="10" r="5"/></svg><figcaption>One dot</figcaption></figure>
      <h3>Smaller</h3><dl><dt>Word</dt><dd>Meaning</dd></dl>`),
  );
  expect(outline(page?.structure)).toBe(
    "Root(Document(H1 P(Link) H2 L(LI(Lbl LBody) LI(Lbl LBody)) L(LI(Lbl LBody)) " +
      "Table(Caption THead(TR(TH TH)) TBody(TR(TH TD))) Figure P H3 L(LI(Lbl LBody))))",
  );
});

test.each([
  ["<h2>a</h2><h3>b</h3><h2>c</h2>", "H1 H2 H1"],
  ["<h1>a</h1><h3>b</h3><h3>c</h3><h2>d</h2>", "H1 H2 H2 H2"],
  ["<h3>a</h3><h1>b</h1><h2>c</h2>", "H1 H1 H2"],
])("headings begin at level 1 and skip none: %s", async (html, levels) => {
  const [page] = await pagesOf(letterOf(html));
  expect(outline(page?.structure)).toBe(`Root(Document(${levels}))`);
});

test("figures carry their alternative, ornaments are not in the tree", async () => {
  const shape = (label: string) =>
    `<svg width="9" height="9" ${label}><path d="M1 1 L8 8" stroke="#000000"/></svg>`;
  const [page] = await pagesOf(
    letterOf(
      `<figure>${shape('role="img" aria-label="A slanting hair"')}</figure><figure>${shape('aria-hidden="true"')}</figure>`,
    ),
  );
  const figures = allNodes(page?.structure).filter((node) => node.role === "Figure");
  expect(figures.map((node) => node.alt)).toEqual(["A slanting hair"]);
});

test("a passage in another language says so", async () => {
  const [page] = await pagesOf(letterOf('<p>She said <span lang="nb">takk for hjelpen</span> and left.</p>'));
  const span = allNodes(page?.structure).find((node) => node.role === "Span");
  expect(span?.lang).toBe("nb");
});

test("a repeated heading row is in the tree once", async () => {
  const rows = Array.from({ length: 90 }, (_, i) => `<tr><td>Site ${i}</td><td>${i}</td></tr>`).join("");
  const head = '<thead><tr><th scope="col">Place</th><th scope="col">Count</th></tr></thead>';
  const pages = await pagesOf(letterOf(`<table>${head}<tbody>${rows}</tbody></table>`));
  expect(pages.length).toBeGreaterThan(2);
  for (const page of pages) expect(page.text).toContain("Place Count");
  const headings = pages.flatMap((page) => allNodes(page.structure).filter((node) => node.role === "TH"));
  expect(headings).toHaveLength(2);
});

async function catalogueOf(bytes: Uint8Array) {
  const document = await PDFDocument.load(bytes, { updateMetadata: false });
  return { document, catalogue: document.catalog };
}

test("title, language, display title and marking are declared", async () => {
  const { bytes } = await rendered({ ...REFERRAL, title: "Hair & scalp <draft> TS-1" });
  const { document, catalogue } = await catalogueOf(bytes);
  expect(document.getTitle()).toBe("Hair & scalp <draft> TS-1");
  expect(catalogue.lookup(PDFName.of("Lang"))?.toString()).toContain("en-GB");
  expect(catalogue.lookup(PDFName.of("MarkInfo"), PDFDict).get(PDFName.of("Marked"))?.toString()).toBe(
    "true",
  );
  const preferences = catalogue.lookup(PDFName.of("ViewerPreferences"), PDFDict);
  expect(preferences.get(PDFName.of("DisplayDocTitle"))?.toString()).toBe("true");
  const metadata = catalogue.lookup(PDFName.of("Metadata"));
  const xml = Buffer.from((metadata as PDFRawStream).contents).toString("utf8");
  expect(xml).toContain("Hair &amp; scalp &lt;draft&gt; TS-1");
});

test("PDF/UA conformance is not claimed in the metadata", async () => {
  const { bytes } = await rendered(HANDOUT);
  const { catalogue } = await catalogueOf(bytes);
  const xml = Buffer.from((catalogue.lookup(PDFName.of("Metadata")) as PDFRawStream).contents).toString(
    "utf8",
  );
  expect(xml).not.toContain("pdfuaid");
});

/** Every piece of page content is inside marked content, and marked pieces are never nested. */
test("everything drawn is marked, as content or as artifact", async () => {
  const { bytes } = await rendered({ ...REFERRAL, draftMark: "DRAFT" });
  const { document } = await catalogueOf(bytes);
  for (const page of document.getPages()) {
    const contents = page.node.Contents();
    const streams = contents instanceof PDFArray ? contents.asArray() : [contents];
    const code = streams
      .map((stream) => (stream instanceof PDFRef ? document.context.lookup(stream) : stream))
      .map((stream) => Buffer.from(decodePDFRawStream(stream as PDFRawStream).decode()).toString("latin1"))
      .join("\n");
    let depth = 0;
    for (const line of code.split("\n")) {
      if (/ (BDC|BMC)$/.test(line)) depth += 1;
      if (/ (Tj|TJ|S|f|f\*|B|Do)$/.test(` ${line}`)) expect(depth, line.slice(-40)).toBe(1);
      if (line.trim() === "EMC") depth -= 1;
      expect(depth).toBeGreaterThanOrEqual(0);
      expect(depth).toBeLessThanOrEqual(1);
    }
    expect(depth).toBe(0);
    expect(code).toContain("/Artifact BMC");
  }
});

test("the foot and the draft mark are not read out", async () => {
  const { bytes } = await rendered({ ...HANDOUT, draftMark: "DRAFT" });
  const pages = await readBack(bytes);
  const { document } = await catalogueOf(bytes);
  const marked = document.context
    .enumerateIndirectObjects()
    .flatMap(([, object]) => (object instanceof PDFDict && object.get(PDFName.of("S")) ? [object] : []));
  expect(marked.length).toBeGreaterThan(20);
  for (const page of pages) {
    expect(page.text).toContain("DRAFT");
    expect(page.text).toContain("born 4 July 1991");
  }
});

test("links have words, a target and a place in the tree", async () => {
  const { bytes } = await rendered(
    letterOf('<p>Write to <a href="mailto:letters@tarnsound.example">our office</a>.</p>'),
  );
  const { document, catalogue } = await catalogueOf(bytes);
  const annotations = document.getPage(0).node.Annots();
  const link = annotations?.lookup(0, PDFDict);
  expect(link?.get(PDFName.of("Contents"))?.toString()).toContain("our");
  expect(link?.get(PDFName.of("StructParent"))).toBeDefined();
  expect(document.getPage(0).node.get(PDFName.of("Tabs"))?.toString()).toBe("/S");
  const tree = catalogue.lookup(PDFName.of("StructTreeRoot"), PDFDict);
  expect(tree.lookup(PDFName.of("K"), PDFArray).size()).toBe(1);
});

/** The structure tree as a screen reader meets it. */
import {
  decodePDFRawStream,
  PDFArray,
  PDFDict,
  PDFDocument,
  type PDFHexString,
  PDFName,
  type PDFRawStream,
  PDFRef,
  type PDFString,
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

test("PDF/UA-1 is claimed in the metadata", async () => {
  const { bytes } = await rendered(HANDOUT);
  const { catalogue } = await catalogueOf(bytes);
  const xml = Buffer.from((catalogue.lookup(PDFName.of("Metadata")) as PDFRawStream).contents).toString(
    "utf8",
  );
  expect(xml.replace(/\s/g, "")).toContain("<pdfuaid:part>1</pdfuaid:part>");
});

function structures(document: PDFDocument, type: string): PDFDict[] {
  return document.context
    .enumerateIndirectObjects()
    .flatMap(([, object]) =>
      object instanceof PDFDict && object.get(PDFName.of("S"))?.toString() === `/${type}` ? [object] : [],
    );
}

test("a figure says where it stands", async () => {
  const drawing =
    '<svg width="20" height="30" role="img" aria-label="A dot"><circle cx="10" cy="10" r="5"/></svg>';
  const { bytes } = await rendered(letterOf(`<figure>${drawing}</figure>`));
  const { document } = await catalogueOf(bytes);
  const [figure] = structures(document, "Figure");
  const attributes = figure?.lookup(PDFName.of("A"), PDFDict);
  expect(attributes?.get(PDFName.of("O"))?.toString()).toBe("/Layout");
  const [left = 0, low = 0, right = 0, high = 0] =
    attributes
      ?.lookup(PDFName.of("BBox"), PDFArray)
      .asArray()
      .map((each) => Number(each.toString())) ?? [];
  expect((right - left) / (high - low)).toBeCloseTo(2 / 3, 2);
  expect(left).toBeCloseTo((25 * 72) / 25.4, 1);
  expect(high).toBeCloseTo(841.89 - (15 * 72) / 25.4, 0);
});

test("headings have bookmarks below one another, and the pane stays shut", async () => {
  const { bytes } = await rendered(
    letterOf("<h1>Title &amp; all</h1><h2>One</h2><p>a</p><h3>Inner</h3><p>b</p><h2>Two</h2><p>c</p>"),
  );
  const { catalogue } = await catalogueOf(bytes);
  const titles = (parent: PDFDict): unknown[] => {
    const found: unknown[] = [];
    let item = parent.lookupMaybe(PDFName.of("First"), PDFDict);
    for (; item; item = item.lookupMaybe(PDFName.of("Next"), PDFDict)) {
      const text = (item.lookup(PDFName.of("Title")) as PDFString | PDFHexString).decodeText();
      const inner = titles(item);
      found.push(inner.length > 0 ? [text, inner] : text);
    }
    return found;
  };
  expect(titles(catalogue.lookup(PDFName.of("Outlines"), PDFDict))).toEqual([
    ["Title & all", [["One", ["Inner"]], "Two"]],
  ]);
  expect(catalogue.get(PDFName.of("PageMode"))?.toString()).toBe("/UseNone");
});

test("without a heading of its own, the subject line is the title", async () => {
  const [page] = await pagesOf(
    letterOf(
      '<p>Dear Dr Vale</p><p class="subject">Ms Ines Oyelaran</p><h2>Findings</h2><p>a</p><h3>More</h3><p>b</p>',
    ),
  );
  expect(outline(page?.structure)).toBe("Root(Document(P H1 H2 P H3 P))");
});

test("cells of a table with joined cells name their headings", async () => {
  const { bytes } = await rendered(
    letterOf(`<table><thead><tr><th scope="col">Site</th><th scope="col" colspan="2">Dots</th></tr></thead>
      <tbody><tr><th scope="row">Nape</th><td>3</td><td>4</td></tr><tr><th scope="row">Crown</th><td>5</td><td>6</td></tr></tbody></table>`),
  );
  const { document, catalogue } = await catalogueOf(bytes);
  const idsOf = (cell: PDFDict) => (cell.lookup(PDFName.of("ID")) as PDFString).decodeText();
  const headings = structures(document, "TH");
  const ids = headings.map(idsOf);
  expect(new Set(ids).size).toBe(4);
  const cells = structures(document, "TD").map((cell) =>
    cell
      .lookup(PDFName.of("A"), PDFDict)
      .lookup(PDFName.of("Headers"), PDFArray)
      .asArray()
      .map((each) => ids.indexOf((each as PDFString).decodeText())),
  );
  expect(cells).toEqual([
    [1, 2],
    [1, 2],
    [1, 3],
    [1, 3],
  ]);
  const tree = catalogue.lookup(PDFName.of("StructTreeRoot"), PDFDict);
  expect(tree.lookup(PDFName.of("IDTree"), PDFDict).lookup(PDFName.of("Names"), PDFArray).size()).toBe(8);
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

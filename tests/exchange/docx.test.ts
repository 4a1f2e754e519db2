import { Parser } from "htmlparser2";
import JSZip from "jszip";
import { describe, expect, it } from "vitest";
import type { Letter } from "../../src/letter/document.js";
import { composeLetter } from "../../src/letter/letter.js";
import { renderDocx } from "../../src/page/docx.js";
import { wordsOf } from "../../src/page/text.js";
import { clinic, examples, knowledge } from "./examples.js";

function letterOf(example: (typeof examples)[number], kind: string): Letter {
  const { visit, measures, interpretation } = example;
  const { value, problems } = composeLetter(kind, { visit, measures, interpretation, clinic, knowledge });
  if (!value) throw new Error(problems.map((p) => p.message).join());
  return value;
}

async function parts(letter: Letter): Promise<{ zip: JSZip; body: string; bytes: Uint8Array }> {
  const { value: bytes, problems } = await renderDocx(letter);
  if (!bytes) throw new Error(problems.map((p) => p.message).join());
  const zip = await JSZip.loadAsync(bytes);
  return { zip, bytes, body: (await zip.file("word/document.xml")?.async("string")) ?? "" };
}

/** The printed words of a part, in order; also proves that its elements close in order. */
function wordsIn(xml: string): string {
  let words = "";
  let isText = false;
  const open: string[] = [];
  const parser = new Parser(
    {
      onopentag: (name) => {
        open.push(name);
        isText = name === "w:t";
      },
      ontext: (text) => {
        if (isText) words += text;
      },
      onclosetag: (name, implied) => {
        expect(implied && !xml.includes(`<${name}`)).toBe(false);
        expect(open.pop()).toBe(name);
        isText = false;
      },
    },
    { xmlMode: true },
  );
  parser.end(xml);
  expect(open).toEqual([]);
  return words;
}

const squeezed = (text: string) => text.replace(/\s+/gu, "");
const chosen = examples.filter((_, i) => i % 9 === 0);

describe.each(["referral-letter", "handout", "reasoning-sheet"])("the editable %s", (kind) => {
  it.each(chosen.map((e) => [e.visit.id, e] as const))(
    "of %s holds every word of the letter, in order",
    async (_id, example) => {
      const letter = letterOf(example, kind);
      const { body } = await parts(letter);
      expect(squeezed(wordsIn(body))).toBe(squeezed(wordsOf(letter)));
    },
  );
});

describe("an editable letter", () => {
  const [example] = examples;
  if (!example) throw new Error("no examples");
  const letter = letterOf(example, "referral-letter");

  it("has real headings, tables whose heads repeat, and lists", async () => {
    const { body } = await parts(letter);
    expect(body).toContain('w:val="Heading2"');
    expect(body).toContain("<w:tblHeader/>");
    expect(body).toMatch(/<w:numPr>/u);
  });

  it("shows every drawing as vectors and as pixels, with its text alternative", async () => {
    const { zip, body } = await parts(letter);
    const label = /<svg[^>]*aria-label="([^"]+)"/u.exec(letter.html)?.[1] ?? "";
    expect(label.length).toBeGreaterThan(20);
    expect(body).toContain(`descr="${label}"`);
    const media = Object.keys(zip.files).filter((name) => name.startsWith("word/media/"));
    expect(media.map((name) => name.slice(-3)).sort()).toEqual(["png", "svg"]);
    const png = await zip.file(media.find((name) => name.endsWith("png")) ?? "")?.async("uint8array");
    expect(png?.length).toBeGreaterThan(5000);
  });

  it("carries identifiers and the page count in the foot, a draft mark only on a draft", async () => {
    const { zip } = await parts(letter);
    const foot = (await zip.file("word/footer1.xml")?.async("string")) ?? "";
    expect(wordsIn(foot)).toContain(letter.identifiers);
    expect(foot).toContain("NUMPAGES");
    expect(zip.file("word/header1.xml")).toBeNull();
    const draft = await parts({ ...letter, draftMark: "DRAFT" });
    expect(wordsIn((await draft.zip.file("word/header1.xml")?.async("string")) ?? "")).toBe("DRAFT");
  });

  it("is the same each time, and names no author and no moment but the letter's day", async () => {
    const [first, second] = [await parts(letter), await parts(letter)];
    expect(Buffer.from(first.bytes).equals(Buffer.from(second.bytes))).toBe(true);
    const core = (await first.zip.file("docProps/core.xml")?.async("string")) ?? "";
    expect(core).not.toContain("creator>");
    expect([...core.matchAll(/(\d{4}-\d{2}-\d{2})T/gu)].map((m) => m[1])).toEqual([letter.date, letter.date]);
  });

  it("refuses what is not in the vocabulary of the page", async () => {
    const { value, problems } = await renderDocx({ ...letter, html: "<p>fine</p><marquee>no</marquee>" });
    expect(value).toBeUndefined();
    expect(problems.map((p) => p.id)).toContain("unknown-element");
  });

  it("lets no link but to the web, mail and telephone through", async () => {
    const html = '<p><a href="https://tarnsoundscalp.example">site</a></p>';
    const { zip } = await parts({ ...letter, html });
    const links = (await zip.file("word/_rels/document.xml.rels")?.async("string")) ?? "";
    expect(links).toContain("https://tarnsoundscalp.example");
  });
});

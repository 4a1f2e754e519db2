/** The German and Spanish templates are the English ones with their passages changed: layout is made once. */
import { readdirSync, readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { inPackage } from "../../src/base/root.js";
import { translateTemplate } from "../../src/letter/translate-template.js";

const english = readdirSync(inPackage("templates", "en")).filter((f) => f.endsWith(".hbs"));

function passages(language: string): Record<string, string> {
  return parse(readFileSync(inPackage("templates", language, "passages.yaml"), "utf8"));
}

function translated(language: string, file: string) {
  const text = readFileSync(inPackage("templates", "en", file), "utf8").replace(/\r\n/gu, "\n");
  return translateTemplate(text, passages(language));
}

describe.each(["de", "es"])("the templates in %s", (language) => {
  it("miss no passage", () => {
    expect(english.flatMap((file) => translated(language, file).missing)).toEqual([]);
  });

  it("have no passage that no template prints", () => {
    const used = new Set(english.flatMap((file) => translated(language, file).used));
    expect(Object.keys(passages(language)).filter((p) => !used.has(p))).toEqual([]);
  });

  it("keep every value of a passage", () => {
    const values = (text: string) => (text.match(/\{\{[^}]*\}\}/gu) ?? []).sort();
    for (const [from, to] of Object.entries(passages(language)))
      expect(values(to), from).toEqual(values(from));
  });

  /** `npm run templates` writes them anew after a change to an English template or a passage. */
  it.each(english)("hold %s as translated", async (file) => {
    await expect(translated(language, file).text).toMatchFileSnapshot(inPackage("templates", language, file));
  });

  it("hold nothing else", () => {
    const files = readdirSync(inPackage("templates", language)).filter((f) => f.endsWith(".hbs"));
    expect(files.sort()).toEqual([...english].sort());
  });
});

describe("a passage", () => {
  it("ends at tags and blocks, not at values, and keeps the space around it", () => {
    const { text, missing, used } = translateTemplate(
      "---\ntitle: Letter\nreader: doctor\n---\n<p>\n  Seen on {{date d}}. {{#if x}} n {{n}}{{else}}None.{{/if}}</p>",
      { Letter: "Brief", "Seen on {{date d}}.": "Gesehen am {{date d}}." },
    );
    expect(text).toBe(
      "---\ntitle: Brief\nreader: doctor\n---\n<p>\n  Gesehen am {{date d}}. {{#if x}} n {{n}}{{else}}None.{{/if}}</p>",
    );
    expect(missing).toEqual(["None."]);
    expect(used).toEqual(["Letter", "Seen on {{date d}}."]);
  });
});

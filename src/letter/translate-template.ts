/** An English template and a table of its passages -> the same template in another language. Layout is made once, in English. */

/** English passage, with its `{{…}}` in place -> passage of the other language. */
export type TemplateTexts = Readonly<Record<string, string>>;

export interface TranslatedTemplate {
  readonly text: string;
  /** English passages that the table lacks, in order. */
  readonly missing: readonly string[];
  /** English passages that were found and used. */
  readonly used: readonly string[];
}

/** Tags, blocks, `else`, parts and drawings end a passage; values printed within a sentence belong to it. */
const BOUNDARY = /(<[^>]*>|\{\{\s*(?:[#/>!]|else\b|drawing\b)[\s\S]*?\}\})/u;
const VALUE = /\{\{[\s\S]*?\}\}/gu;

/** Translates every passage that holds a word, and the title between the --- lines. */
export function translateTemplate(text: string, texts: TemplateTexts): TranslatedTemplate {
  const missing: string[] = [];
  const used: string[] = [];
  const say = (passage: string): string => {
    if (!/\p{L}{2}/u.test(passage.replace(VALUE, " "))) return passage;
    const key = passage.replace(/\s+/gu, " ").trim();
    const said = Object.hasOwn(texts, key) ? texts[key] : undefined;
    if (said === undefined) {
      missing.push(key);
      return passage;
    }
    used.push(key);
    const before = /^\s*/u.exec(passage)?.[0] ?? "";
    const after = /\s*$/u.exec(passage)?.[0] ?? "";
    return `${before}${said}${after}`;
  };
  const head = /^---\n[\s\S]*?\n---\n/u.exec(text)?.[0] ?? "";
  const titled = head.replace(/^title: (.*)$/mu, (_, title: string) => `title: ${say(title)}`);
  const body = text
    .slice(head.length)
    .split(BOUNDARY)
    .map((part, i) => (i % 2 === 0 ? say(part) : part))
    .join("");
  return { text: titled + body, missing, used };
}

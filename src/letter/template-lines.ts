/** Where the lines of a filled template come from, so that what the page refuses is told in the template and not in the letter. */
import type Handlebars from "handlebars";
import type { TemplateSource } from "./pack.js";

export interface TemplatePlace {
  readonly file: string;
  readonly line: number;
}

/** Marks are characters of a private plane, one for each place: no letter has them, and they start no new line. */
const FIRST_MARK = 0xf0000;
const MARK = /[\u{F0000}-\u{FFFFD}]/gu;
const LEADING_MARKS = /^[\u{F0000}-\u{FFFFD}\s]+/u;
const MOST_MARKS = 0xfffd;

export class LineMarks {
  private readonly places: TemplatePlace[] = [];

  /** The template's tree with a mark at the start of each piece of its own text and after each of its line ends. */
  marked(engine: typeof Handlebars, source: TemplateSource): hbs.AST.Program {
    const tree = engine.parse(source.body);
    this.markAll(tree, source);
    return tree;
  }

  /** The place that the `line`th line of the filled and marked HTML comes from; lines count from 1. */
  placeOf(html: string, line: number): TemplatePlace | undefined {
    const lines = html.split("\n");
    // A line that two pieces of text make together comes from the later one, which is where its words are.
    const own = lines[line - 1]?.match(LEADING_MARKS)?.[0].match(MARK)?.at(-1);
    const before = lines
      .slice(0, line - 1)
      .join("\n")
      .match(MARK)
      ?.at(-1);
    const mark = own ?? before;
    return mark === undefined ? undefined : this.places[(mark.codePointAt(0) ?? 0) - FIRST_MARK];
  }

  private markAll(program: hbs.AST.Program, source: TemplateSource): void {
    for (const statement of program.body) {
      if (statement.type === "ContentStatement") this.mark(statement as hbs.AST.ContentStatement, source);
      const { program: inner, inverse } = statement as Partial<hbs.AST.BlockStatement>;
      if (inner) this.markAll(inner, source);
      if (inverse) this.markAll(inverse, source);
    }
  }

  private mark(content: hbs.AST.ContentStatement, source: TemplateSource): void {
    // Space beside a tag that stands alone on its line has been taken away by now.
    const from = String(content.original).indexOf(content.value);
    const skipped = String(content.original).slice(0, Math.max(0, from)).split("\n").length - 1;
    let line = content.loc.start.line + skipped + source.skippedLines;
    content.value = content.value
      .split("\n")
      .map((text) => {
        if (this.places.length >= MOST_MARKS) return text;
        this.places.push({ file: source.file, line: line++ });
        return String.fromCodePoint(FIRST_MARK + this.places.length - 1) + text;
      })
      .join("\n");
  }
}

/** A finished letter -> Typst source that sets the same pages, for comparing typesetters. */

import { SHEETS } from "../../src/base/paper.js";
import type { Letter } from "../../src/letter/document.js";
import { childElements, type Element, headingLevels, readMarkup } from "../../src/page/html/markup.js";
import { cleanText } from "../../src/page/type/characters.js";
import { MARGIN_MM, WINDOWS } from "../../src/page/type/paper.js";
import { SCALES } from "../../src/page/type/scale.js";
import { quoted, styled, TypstWriter } from "./typst-blocks.js";
import { TEMPLATE_PATH } from "./typst-template.js";

export interface TypstLetter {
  readonly source: string;
  /** Photos by the path that the source uses. */
  readonly files: ReadonlyMap<string, Uint8Array>;
}

/** Letterhead and references at the top, the address where the envelope's window is. */
function head(writer: TypstWriter, elements: readonly Element[]): string {
  if (elements.length === 0) return "";
  const { clinic, letterhead } = writer.scale;
  const place = writer.letter.addressWindow === "none" ? undefined : WINDOWS[writer.letter.addressWindow];
  const left: string[] = [];
  const right: string[] = [];
  const below: string[] = [];
  for (const element of elements) {
    if (element.name === "header") {
      const [name, ...contact] = childElements(element).filter((child) => child.name === "p");
      left.push(
        ...childElements(element)
          .filter((child) => child.name !== "p")
          .map((logo) => writer.block(logo)),
      );
      if (name) left.push(`#sized(${styled(clinic)}, accent)[${writer.paragraph(name.children)}]`);
      for (const one of contact)
        right.push(`#sized(${styled(letterhead)}, quiet)[${writer.paragraph(one.children)}]`);
    } else if (element.name === "address") {
      const address = `#sized(${styled(writer.scale.address)}, ink)[${writer.block(element)}]`;
      if (!place) below.push(address);
      else
        below.push(
          `#window(${place.leftMm - MARGIN_MM.left}mm, ${place.topMm - MARGIN_MM.top}mm, ${place.widthMm}mm)[${address}]`,
        );
    } else right.push(`#sized(${styled(letterhead)}, ink)[${writer.block(element)}]`);
  }
  const height = place ? `${place.bodyTopMm - MARGIN_MM.top}mm` : "auto";
  const columns = `#head(${height})[${left.join("\n\n")}][${right.join("\n\n")}]`;
  return [columns, ...(place ? [] : ["#line(length: 100%, stroke: hairline)"]), ...below].join("\n\n");
}

function isHead(element: Element): boolean {
  return element.name === "header" || element.name === "address" || element.classes.includes("reference");
}

/** `folder` keeps the photos of one letter apart from those of others. Throws when the letter's HTML cannot be set. */
export function typstSource(letter: Letter, folder = ""): TypstLetter {
  const { value: root, problems } = readMarkup(letter.html);
  if (!root) throw new Error(`not read: ${problems.map((p) => p.id).join(", ")}`);
  const writer = new TypstWriter(letter, headingLevels(root), folder);
  const children = childElements(root);
  const top = head(writer, children.filter(isHead));
  const body = writer.flow(children.filter((child) => !isHead(child)));
  const sheet = SHEETS[letter.paper];
  const { body: text, h1, h2, h3, table, foot, gap, drawings } = SCALES[letter.typeSize];
  const styles = Object.entries({ body: text, h1, h2, h3, table, foot }).map(
    ([name, style]) => `${name}: ${styled(style)}`,
  );
  const [lang, region] = letter.language.split("-");
  const [year, month, day] = letter.date.split("-").map(Number);
  const source = `#import ${quoted(TEMPLATE_PATH)}: *
#show: letter.with(
  sheet: (width: ${sheet.widthMm}mm, height: ${sheet.heightMm}mm, margin: (left: ${MARGIN_MM.left}mm, right: ${MARGIN_MM.right}mm, top: ${MARGIN_MM.top}mm, bottom: ${MARGIN_MM.bottom + MARGIN_MM.footGap + (foot.leading * 2 * 25.4) / 72}mm)),
  scale: (${styles.join(", ")}, gap: ${gap}pt, drawings: ${drawings}),
  title: ${quoted(cleanText(letter.title))},
  lang: ${quoted(lang ?? "en")},
  region: ${region ? quoted(region) : "none"},
  date: datetime(year: ${year}, month: ${month}, day: ${day}),
  foot: (identifiers: ${quoted(cleanText(letter.identifiers))}, confidentiality: ${quoted(cleanText(letter.confidentiality))}, page: ${quoted(letter.pageWords)}),
  draft: ${letter.draftMark === null ? "none" : quoted(cleanText(letter.draftMark))},
)
${top}

${body}
`;
  return { source, files: writer.files };
}

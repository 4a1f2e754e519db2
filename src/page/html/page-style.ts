/** The style of the standalone page, from the same palette and scale as the PDF. */
import { SHEETS } from "../../base/paper.js";
import type { Letter } from "../../letter/document.js";
import { PALETTE } from "../type/palette.js";
import { SCALES, type Style } from "../type/scale.js";

const { ink, quiet, accent, tint, hairline, draft, paper } = PALETTE;

export const PAGE_CSS = `* { box-sizing: border-box; }
html { background: ${paper}; color: ${ink}; }
body { font-family: "Noto Sans", "Segoe UI", "Helvetica Neue", Arial, "DejaVu Sans", sans-serif; margin: 0 auto; padding: 2rem 1.5rem; max-width: 46rem; }
main > * { margin-top: 1em; margin-bottom: 0; }
h1, h2, h3 { color: ${accent}; font-weight: 600; text-wrap: balance; margin-bottom: 0.3em; break-after: avoid; }
h2 { margin-top: 1.5em; }
p, li, dd { max-width: 68ch; text-wrap: pretty; }
p, ul, ol, dl { margin: 0.5em 0 0; }
ul, ol { padding-left: 1.4em; }
li { margin-top: 0.25em; }
/* One item needs no number, nor any sign beside its label. */
:is(dd > ul:not(.pictured), ol:not([start])) > li:only-child { list-style: none; margin-left: -1.4em; }
a { color: ${accent}; }
small, p.small, figcaption { color: ${quiet}; }
table { border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums; }
caption { text-align: left; font-weight: 600; padding-bottom: 0.3em; }
th, td { text-align: left; vertical-align: top; padding: 0.3em 0.8em 0.3em 0; border-bottom: 0.5px solid ${hairline}; }
thead th { color: ${quiet}; border-bottom: 1px solid ${accent}; }
th { font-weight: 600; }
.number { text-align: right; }
th.plain { font-weight: normal; }
table.reference { width: auto; }
table.reference th, table.reference td { border: 0; padding: 0 1em 0 0; }
table.reference th { font-weight: 400; color: ${quiet}; }
dl { display: grid; grid-template-columns: minmax(6em, auto) 1fr; gap: 0.25em 1.2em; }
dt { font-weight: 600; }
dd { margin: 0; }
figure { margin: 0; }
figure svg, figure img { max-width: 100%; height: auto; }
div.beside { display: grid; grid-auto-flow: column; grid-auto-columns: 1fr; gap: 1.6em; align-items: start; }
ul.pictured { list-style: none; padding: 0; }
ul.pictured > li { display: flex; gap: 1em; align-items: center; margin-top: 0.6em; }
ul.pictured svg, ul.pictured img { flex: none; width: 3.2em; height: 3.2em; }
aside { padding: 0.8em 1em; }
aside > :first-child { margin-top: 0; }
aside.summary { background: ${tint}; border-left: 4px solid ${accent}; }
aside.caution { border: 1px solid ${ink}; }
aside.clinician-only { border: 1px dashed ${quiet}; }
header.letterhead { display: flex; flex-wrap: wrap; gap: 0.3em 1.2em; align-items: center; border-bottom: 0.5px solid ${hairline}; padding-bottom: 0.8em; }
header.letterhead svg, header.letterhead img { max-height: 4em; width: auto; }
header.letterhead p { margin: 0; color: ${quiet}; }
header.letterhead svg + p, header.letterhead img + p, header.letterhead p:first-child { color: ${accent}; font-weight: 600; font-size: 1.25em; margin-right: auto; }
address { font-style: normal; }
p.subject { font-weight: 600; }
section.sheet { font-size: 1.25em; break-before: page; border-top: 0.5px solid ${hairline}; margin-top: 2em; }
section.signature > :first-child { margin-bottom: 2.6em; }
hr { border: 0; border-top: 0.5px solid ${hairline}; }
footer { border-top: 0.5px solid ${hairline}; margin-top: 2.5em; padding-top: 0.5em; color: ${quiet}; }
footer p { margin: 0; max-width: none; }
footer p:first-child { color: ${ink}; font-weight: 600; }
.draft-mark { border: 1px solid ${ink}; display: inline-block; font-weight: 600; margin: 0 0 1em; padding: 0.1em 0.8em; }
.draft-backdrop { color: ${draft}; font-size: 22vmin; font-weight: 600; inset: 0; display: grid; place-items: center; position: fixed; transform: rotate(-52deg); z-index: -1; }
@media (max-width: 40rem) { div.beside { display: block; } dl { grid-template-columns: 1fr; } }
@media print {
  body { max-width: none; padding: 0; }
  thead { display: table-header-group; }
  tr, figure, aside, .keep, .signature, .beside, ul.pictured > li { break-inside: avoid; }
  section.signature { break-before: avoid; }
  p, li { orphans: 2; widows: 2; }
  a { color: inherit; }
}
`;

function rule(selector: string, { size, leading }: Style): string {
  return `${selector} { font-size: ${size}pt; line-height: ${(leading / size).toFixed(2)}; }\n`;
}

/** Sizes and paper of one letter. */
export function sheetCss(letter: Letter): string {
  const scale = SCALES[letter.typeSize];
  return (
    `@page { size: ${SHEETS[letter.paper].css}; margin: 15mm 20mm 15mm 25mm; }\n` +
    rule("body", scale.body) +
    rule("h1", scale.h1) +
    rule("h2", scale.h2) +
    rule("h3", scale.h3) +
    rule("table", scale.table) +
    rule("small, p.small, figcaption, header.letterhead", scale.small) +
    rule("footer", scale.foot)
  );
}

/** How letters look when Typst sets them: the same sheet, margins, typefaces, sizes, boxes and foot as ours. Read once, used by every letter. */
import { PALETTE } from "../../src/page/type/palette.js";

export const TEMPLATE_PATH = "/letter.typ";

/** Lines stand `leading` apart; Typst counts the room between the foot of one line and the capitals of the next. */
export const TEMPLATE = `
#let ink = rgb("${PALETTE.ink}")
#let quiet = rgb("${PALETTE.quiet}")
#let accent = rgb("${PALETTE.accent}")
#let tint = rgb("${PALETTE.tint}")
#let hairline = 0.4pt + rgb("${PALETTE.hairline}")
#let room(style) = style.leading - 0.714 * style.size

#let sized(style, color, body) = {
  set text(size: style.size, fill: color, weight: style.weight)
  set par(leading: room(style))
  body
}

#let letter(sheet: (:), scale: (:), title: "", lang: "en", region: none, date: none, foot: (:), draft: none, body) = {
  set document(title: title, date: date)
  set text(font: ("Noto Sans", "DejaVu Sans"), lang: lang, region: region, fill: ink, size: scale.body.size, hyphenate: false)
  set par(leading: room(scale.body), spacing: room(scale.body) + scale.gap)
  set block(spacing: room(scale.body) + scale.gap)
  set smartquote(enabled: false)
  set list(indent: 0pt, body-indent: 0.6em, spacing: room(scale.body) + scale.gap * 0.4)
  set enum(indent: 0pt, body-indent: 0.6em, spacing: room(scale.body) + scale.gap * 0.4)
  set table(stroke: none, inset: (x: 0pt, y: scale.gap * 0.75))
  show table.cell: set text(size: scale.table.size)
  show table.cell: set par(leading: room(scale.table))
  set strong(delta: 0)
  show strong: set text(weight: 600)
  show link: it => underline(text(fill: accent, it))
  show heading.where(level: 1): it => block(above: scale.gap * 4, sized(scale.h1, accent, it.body))
  show heading.where(level: 2): it => block(above: scale.gap * 3.4, sized(scale.h2, accent, it.body))
  show heading.where(level: 3): it => block(above: scale.gap * 3, sized(scale.h3, accent, it.body))
  set page(
    width: sheet.width,
    height: sheet.height,
    margin: sheet.margin,
    background: if draft != none { rotate(-52deg, text(size: 150pt, fill: rgb("${PALETTE.draft}"), weight: 600, draft)) },
    footer-descent: 0pt,
    footer: context {
      let words = foot.page.replace("{page}", str(here().page())).replace("{pages}", str(counter(page).final().first()))
      set text(size: scale.foot.size)
      set par(leading: room(scale.foot), spacing: room(scale.foot))
      set block(spacing: room(scale.foot))
      line(length: 100%, stroke: hairline)
      grid(columns: (1fr, auto), column-gutter: 1em, text(weight: 600, foot.identifiers), words)
      if foot.confidentiality != "" { text(fill: quiet, foot.confidentiality) }
    },
  )
  body
}

#let picture(data, format, width, height, most, words) = layout(size => {
  let factor = calc.min(most, size.width / width)
  image(data, format: format, width: width * factor, height: height * factor, alt: words)
})
#let window(x, y, width, body) = place(top + left, dx: x, dy: y, box(width: width, body))
#let head(height, left, right) = block(height: height, below: 0pt, grid(columns: (1fr, auto), column-gutter: 6mm, left, box(width: 62mm, right)))
#let summary(body) = block(width: 100%, fill: tint, stroke: (left: 3pt + accent), inset: 0.95em, breakable: false, body)
#let caution(body) = block(width: 100%, stroke: 1pt + ink, inset: 0.95em, breakable: false, body)
#let clinician(body) = block(width: 100%, stroke: (paint: quiet, thickness: 0.8pt, dash: "dashed"), inset: 0.95em, breakable: false, body)
#let keep(body) = block(width: 100%, breakable: false, body)
#let beside(shares, ..parts) = block(breakable: false, grid(columns: shares, column-gutter: 1.6em, ..parts))
#let pictured(..parts) = grid(columns: (3.6em, 1fr), column-gutter: 1em, row-gutter: 0.6em, align: horizon, ..parts)
#let definitions(..parts) = grid(columns: (auto, 1fr), column-gutter: 1.2em, row-gutter: 0.6em, ..parts)
`;

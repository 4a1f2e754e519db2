/**
 * Widths of table columns in points. The engine's own flexible columns grow past the paper when a word is too long for them,
 * so every column is given a fixed width here, inside which words can be broken.
 */
import { textWidth } from "./fonts.js";
import { childElements, type Element, plainText } from "./markup.js";

interface Need {
  /** Longest word. */
  readonly least: number;
  /** Longest line. */
  readonly natural: number;
}

/** What the cells of one column need at a type size. */
function needOf(cells: readonly Element[], size: number): Need {
  let least = 0;
  let natural = 0;
  for (const cell of cells) {
    const cut = cell.name === "th" ? "bold" : "normal";
    for (const line of plainText(cell).split("\n")) {
      const text = line.trim();
      natural = Math.max(natural, textWidth(text, size, cut));
      for (const word of text.split(/[ -]+/)) least = Math.max(least, textWidth(`${word}-`, size, cut));
    }
  }
  return { least, natural: Math.max(natural + 1, least) };
}

/** Shares `room` among columns: natural widths while they fit, else at least the longest word of each. */
function share(needs: readonly Need[], room: number): number[] {
  const natural = needs.reduce((sum, need) => sum + need.natural, 0);
  if (natural <= room) {
    // What is left goes to the last column, so that the table is as wide as the text.
    return needs.map((need, i) => need.natural + (i === needs.length - 1 ? room - natural : 0));
  }
  const least = needs.reduce((sum, need) => sum + need.least, 0);
  if (least >= room) return needs.map((need) => (need.least * room) / least);
  const spare = room - least;
  const wish = natural - least;
  return needs.map((need) => need.least + ((need.natural - need.least) * spare) / wish);
}

/**
 * Content widths of the columns of a table `width` points wide, whose inner columns are `padding` apart on either side.
 * `data-widths` gives per cents of the width and `*` for an equal part of the rest; columns without it share by need.
 */
export function columnWidths(
  table: Element,
  columns: number,
  width: number,
  padding: number,
  size: number,
): number[] {
  const rows = childElements(table)
    .filter((part) => part.name === "thead" || part.name === "tbody")
    .flatMap(childElements)
    .map(childElements);
  const plain = rows.filter((cells) => cells.length === columns);
  const room = width - padding * 2 * (columns - 1);
  const given = table.attributes["data-widths"]?.trim().split(/\s+/) ?? [];
  const fixed = Array.from({ length: columns }, (_, i) => {
    const wanted = Number(given[i]);
    return wanted > 0 ? (room * wanted) / 100 : undefined;
  });
  const taken = fixed.reduce<number>((sum, each) => sum + (each ?? 0), 0);
  const open = fixed.flatMap((each, i) => (each === undefined ? [i] : []));
  if (open.length === 0 || taken >= room * 0.95)
    return fixed.map((each) => ((each ?? room / columns) * room) / (taken || room));
  const areStars = given.length > 0;
  const needs = open.map((i) =>
    needOf(
      plain.flatMap((cells) => cells[i] ?? []),
      size,
    ),
  );
  const shares = areStars ? open.map(() => (room - taken) / open.length) : share(needs, room - taken);
  return fixed.map((each, i) => each ?? shares[open.indexOf(i)] ?? 0);
}

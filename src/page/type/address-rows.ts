/** A line of an address that is too wide for its place goes on after a comma, so that no name of a street or town is torn. */
import { textWidth } from "./fonts.js";

/** After a comma, unless what follows is a state with its code, which stays with the town. */
const COMMA = /(?<=,) +(?!\p{Lu}{2} [\d\p{Lu}]{3})/u;

/** As few rows as commas allow; a part that is too wide by itself is left whole. */
export function addressRows(line: string, width: number, size: number): string[] {
  return filled(line.split(COMMA), width, size);
}

/** The pieces side by side while they fit. */
export function filled(pieces: readonly string[], width: number, size: number): string[] {
  const rows: string[] = [];
  for (const piece of pieces) {
    const longer = rows.length === 0 ? piece : `${rows.at(-1)} ${piece}`;
    if (rows.length > 0 && textWidth(longer, size) <= width) rows[rows.length - 1] = longer;
    else rows.push(piece);
  }
  return rows;
}

/**
 * Widths of table columns in points. The engine's own flexible columns grow past the paper when a word is too long for them,
 * so every column is given a fixed width here, inside which words can be broken.
 */

import { childElements, type Element, plainText } from "../html/markup.js";
import { bindWords, withBoundSpaces } from "../type/bound-words.js";
import { linesOf, textWidth, wordWidths } from "../type/fonts.js";

interface Need {
  /** Longest word. */
  readonly least: number;
  /** Longest line. */
  readonly natural: number;
}

/** One number: a sign, digits in groups, a decimal part, a unit. */
const ONE_NUMBER = /^([<>\u2264\u2265\u2248~\u2212+-]?\s?\d[\d\u00a0\u202f ]*)((?:[.,]\d+)?\s?\D{0,8})$/u;

/** Widths of a number cell up to its decimal sign and from there on; undefined unless it holds one number and no more. */
export function numberParts(cell: Element, size: number): { whole: number; rest: number } | undefined {
  if (cell.name !== "td" || !cell.classes.includes("number")) return undefined;
  const [, whole, rest] = ONE_NUMBER.exec(plainText(cell).trim()) ?? [];
  if (whole === undefined || rest === undefined) return undefined;
  return { whole: textWidth(whole, size), rest: textWidth(rest, size) };
}

/** Headings are bold unless a whole sentence heads the row. */
const cutOf = (cell: Element) => (cell.name === "th" && !cell.classes.includes("plain") ? "bold" : "normal");

/** What is measured of a cell, at type size 1: other sizes are multiples. */
interface MeasuredCell extends Need {
  /** Widths of the words of each line, as lines break: what is bound counts as one word. */
  readonly lines: readonly (readonly number[])[];
  readonly space: number;
}

/** By cell: a letter is set several times, at other sizes, and each column is tried at many widths. */
const measured = new WeakMap<Element, MeasuredCell>();

function measure(cell: Element): MeasuredCell {
  const known = measured.get(cell);
  if (known) return known;
  const cut = cutOf(cell);
  const text = plainText(cell);
  let least = 0;
  let natural = 0;
  for (const line of text.split("\n")) {
    const pieces = bindWords(line.trim());
    natural = Math.max(natural, textWidth(line.trim(), 1, cut));
    // What is bound is broken nowhere, not even at a hyphen.
    const words = pieces.flatMap(({ text, isBound }) => (isBound ? [text] : text.split(/[ -]+/)));
    for (const word of words) least = Math.max(least, textWidth(`${word}-`, 1, cut));
  }
  const lines = wordWidths(withBoundSpaces(text.trim()), cut);
  const found = { least, natural, lines, space: textWidth(" ", 1, cut) };
  measured.set(cell, found);
  return found;
}

/** What the cells of one column need at a type size. */
function needOf(cells: readonly Element[], size: number): Need {
  const all = cells.map(measure);
  const numbers = cells.flatMap((cell) => numberParts(cell, size) ?? []);
  const aligned =
    Math.max(0, ...numbers.map(({ whole }) => whole)) + Math.max(0, ...numbers.map(({ rest }) => rest));
  const least = Math.max(
    Math.max(0, ...all.map((cell) => cell.least)) * size,
    aligned === 0 ? 0 : aligned + 1,
  );
  return { least, natural: Math.max(Math.max(0, ...all.map((cell) => cell.natural)) * size + 1, least) };
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

/** Narrow columns have their natural width, and the rest is shared; undefined where that leaves a column too little. */
function narrowFirst(needs: readonly Need[], room: number): number[] | undefined {
  const widths = needs.map(() => 0);
  let left = room;
  const open = needs.map((need, i) => ({ need, i })).sort((a, b) => a.need.natural - b.need.natural);
  open.forEach(({ need, i }, k) => {
    widths[i] = Math.min(need.natural, left / (open.length - k));
    left -= widths[i];
  });
  return widths.every((width, i) => width >= (needs[i]?.least ?? 0)) ? widths : undefined;
}

/** Share of a table's width that goes from one column to another at a time, and how often. */
const STEP = 0.03;
const MOST_STEPS = 6;

/** Widths from which no small step from column to column saves a line. */
function withFewestLines(
  start: readonly number[],
  needs: readonly Need[],
  room: number,
  linesAt: (widths: readonly number[]) => number,
): number[] {
  let best = { widths: [...start], lines: linesAt(start) };
  for (let steps = 0; steps < MOST_STEPS; steps += 1) {
    const next = needs.flatMap((need, from) =>
      needs.flatMap((_, to) =>
        [STEP, 2 * STEP].flatMap((share) => {
          const widths = best.widths.map((w, i) =>
            i === from ? w - share * room : i === to ? w + share * room : w,
          );
          return from === to || (widths[from] ?? 0) < need.least ? [] : [{ widths, lines: linesAt(widths) }];
        }),
      ),
    );
    const better = next.reduce((a, b) => (b.lines < a.lines ? b : a), best);
    if (better === best) break;
    best = better;
  }
  return best.widths;
}

/** Lines that each cell of a column takes, by the column's width. */
function columnLines(cells: readonly Element[], size: number): (width: number) => readonly number[] {
  const all = cells.map(measure);
  const tried = new Map<number, readonly number[]>();
  return (width) => {
    let lines = tried.get(width);
    if (!lines) {
      lines = all.map((cell) => linesOf(cell.lines, cell.space * size, width, size));
      tried.set(width, lines);
    }
    return lines;
  };
}

/** Lines that rows take when columns have certain widths. */
function linesIn(
  rows: readonly (readonly Element[])[],
  columns: number,
  size: number,
): (widths: readonly number[]) => number {
  const inColumn = Array.from({ length: columns }, (_, i) =>
    columnLines(
      rows.flatMap((cells) => cells[i] ?? []),
      size,
    ),
  );
  return (widths) => {
    const lines = inColumn.map((lines, i) => lines(widths[i] ?? 1));
    let sum = 0;
    for (let row = 0; row < rows.length; row += 1) {
      let most = 0;
      for (const column of lines) most = Math.max(most, column[row] ?? 0);
      sum += most;
    }
    return sum;
  };
}

/** Largest share of a table that one long word may claim. */
const WORD_SHARE = 0.3;

/** Widens columns too narrow for their longest word, at the cost of those with room to spare. */
function withRoomForWords(widths: readonly number[], needs: readonly Need[], room: number): number[] {
  const leasts = needs.map((need) => Math.min(need.least, room * WORD_SHARE));
  const wanting = widths.reduce((sum, width, i) => sum + Math.max(0, (leasts[i] ?? 0) - width), 0);
  const spare = widths.reduce((sum, width, i) => sum + Math.max(0, width - (leasts[i] ?? 0)), 0);
  if (wanting === 0 || spare < wanting) return [...widths];
  return widths.map((width, i) => {
    const least = leasts[i] ?? 0;
    return width < least ? least : width - ((width - least) * wanting) / spare;
  });
}

/** What each column needs for the cells that are its own; the last under a joined cell also for what that cell has too much. */
function needsOf(rows: readonly (readonly Element[])[], columns: number, size: number): Need[] {
  const own = Array.from({ length: columns }, (): Element[] => []);
  const joined: { readonly cell: Element; readonly from: number; readonly to: number }[] = [];
  for (const cells of rows) {
    let column = 0;
    for (const cell of cells) {
      const span = Number(cell.attributes.colspan ?? 1);
      if (span === 1) own[column]?.push(cell);
      else joined.push({ cell, from: column, to: column + span - 1 });
      column += span;
    }
  }
  const needs = own.map((cells) => needOf(cells, size));
  for (const { cell, from, to } of joined) {
    const whole = needOf([cell], size);
    const before = needs.slice(from, to);
    const sum = (key: keyof Need) => before.reduce((total, need) => total + need[key], 0);
    const last = needs[to];
    if (!last) continue;
    needs[to] = {
      least: Math.max(last.least, whole.least - sum("least")),
      natural: Math.max(last.natural, whole.natural - sum("natural")),
    };
  }
  return needs;
}

/**
 * Content widths of the columns of a table `width` points wide, without what stands between them.
 * `data-widths` gives per cents of the width and `*` for an equal part of the rest; columns without it share by need, in whichever way takes fewer lines. A
 * column is never narrower than its longest word while another has room to spare.
 */
export function columnWidths(table: Element, columns: number, room: number, size: number): number[] {
  const all = childElements(table)
    .filter((part) => part.name === "thead" || part.name === "tbody")
    .flatMap(childElements)
    .map(childElements);
  const rows = all.filter((cells) => cells.length === columns);
  const needs = rows.length > 0 ? needsOf(rows, columns, size) : needsOf(all, columns, size);
  const given = table.attributes["data-widths"]?.trim().split(/\s+/) ?? [];
  if (given.length === 0) {
    const linesAt = linesIn(rows, columns, size);
    const shared = share(needs, room);
    const narrow = narrowFirst(needs, room);
    const start = narrow && linesAt(narrow) < linesAt(shared) ? narrow : shared;
    return linesAt(start) > rows.length ? withFewestLines(start, needs, room, linesAt) : start;
  }
  const fixed = needs.map((_, i) => (Number(given[i]) > 0 ? (room * Number(given[i])) / 100 : undefined));
  const taken = fixed.reduce<number>((sum, each) => sum + (each ?? 0), 0);
  const stars = fixed.filter((each) => each === undefined).length;
  // Shares that leave nothing for the open columns, or do not add up, are scaled to the table.
  const isFull = stars === 0 || taken > room * 0.95;
  const scale = isFull ? (room * (stars === 0 ? 1 : 0.8)) / taken : 1;
  const rest = stars === 0 ? 0 : (room - taken * scale) / stars;
  return withRoomForWords(
    fixed.map((each) => (each === undefined ? rest : each * scale)),
    needs,
    room,
  );
}

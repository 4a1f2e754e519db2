/**
 * Turns the sites and the estimated hair loss of a visit into a line drawing of the head: regions as hairlines,
 * patches to scale, loss as shading, sites as numbers that match the findings table.
 */
import type { Extent, Region, Site } from "../visit/visit.js";
import { headSize } from "./head/age.js";
import { VIEWS, type View } from "./head/head-view.js";
import { altText } from "./map/alt-text.js";
import { chooseViews } from "./map/choose-views.js";
import { drawRow, frameWidth, rowHeight } from "./map/draw-row.js";
import { type Block, legend, SMALLEST_TYPE, shadesBelow } from "./map/legend.js";
import type { MapWords } from "./map/phrases.js";
import { drawing } from "./svg.js";

export interface ScalpMapInput {
  /** Numbered 1, 2, 3 in this order. */
  readonly sites: readonly Site[];
  readonly extent?: Extent;
  readonly words: MapWords;
  /** Views to show; left out, those that the sites and the extent need. A needed view is added when missing. */
  readonly views?: readonly View[];
  /** `plain`: fewer lines, bigger numbers and type, for the handout. Default `clinical`. */
  readonly style?: "clinical" | "plain";
  /** Width in points; default 482, the text width of A4 with 20 mm margins. */
  readonly width?: number;
  /** Type size in points; default 8, or 12 in plain style. */
  readonly textSize?: number;
  /** Whether the drawing itself says what each number is; default true. */
  readonly key?: boolean;
  /** Under 18 the head drawn is a child's, and patches are to its scale; left out, a grown one. */
  readonly ageYears?: number;
}

export interface ScalpMap {
  readonly svg: string;
  readonly alt: string;
  readonly pins: readonly { readonly number: number; readonly site: Region }[];
  /** In points. */
  readonly width: number;
  readonly height: number;
}

/** A map laid out but not yet drawn, for a caller that chooses among several by their height. */
export interface PlannedMap extends Omit<ScalpMap, "svg" | "alt"> {
  draw(): ScalpMap;
}

/** Points to the millimetre: heads about 31 mm long on paper, not below 25 mm while rows can be added. */
const LARGEST_SCALE = 0.44;
/** In plain style the words beside the map need the room; numbers and type keep their size. */
const LARGEST_PLAIN = 0.52;
const LARGEST_IN_ROWS = 0.44;
const SMALLEST_SCALE = 0.36;

/** Draws the map; any number of sites, with or without patches, places and extent. Never throws. */
export function scalpMap(input: ScalpMapInput): ScalpMap {
  return planMap(input).draw();
}

/** Lays the map out: which views in which rows, where the words stand, how tall it becomes. Never throws. */
export function planMap(input: ScalpMapInput): PlannedMap {
  const { sites, extent, words } = input;
  const plain = input.style === "plain";
  const textSize = input.textSize ?? (plain ? 12 : SMALLEST_TYPE);
  const width = Math.max(input.width ?? 482, 140);
  const ageYears = input.ageYears ?? 18;
  const needed = chooseViews(
    sites.map(({ site }) => site),
    extent,
  );
  const asked = input.views ?? [];
  const views = VIEWS.filter((view) => asked.includes(view) || needed.includes(view));
  // Plain heads stay large; in large print their names may run over two lines.
  const most = plain ? Math.min(4, Math.floor(width / (textSize * 6))) : Math.floor(width / (textSize * 8.5));
  // Names of sides stand nearer their own head than the next; three heads need the room.
  const between = plain && views.length < 3 ? 16 : 12;
  const { rows, scale } = fitRows(views, most, width - 4, between, plain ? LARGEST_PLAIN : LARGEST_SCALE);
  const pinRadius = plain ? Math.max(8, textSize * 0.7) : Math.max(6.4, textSize * 0.75);
  // The same paper holds a smaller head, so a millimetre of it takes more room.
  const patchScale = scale / headSize(ageYears);
  const look = { scale, patchScale, ageYears, pinRadius, textSize, plain, key: input.key ?? true };

  const last = rows[rows.length - 1]!;
  const lastWidth = frameWidth(last) * scale + (last.length - 1) * between;
  const asideWidth = width - 4 - lastWidth - 2 * between;
  const columns = Math.max(width >= textSize * 25 ? 2 : 1, Math.floor(width / Math.max(150, textSize * 19)));
  const columnWidth = (width - 4 - (columns - 1) * 14) / columns;
  const line = shadesBelow(extent, words, width - 4, textSize);
  const below = toColumns(legend(sites, line ? undefined : extent, words, columnWidth, look), columns);
  const beside = legend(sites, extent, words, asideWidth, look);
  const rowHeights = rows.map((row) => rowHeight(row, words, look));
  const lastHeight = rowHeights[rowHeights.length - 1]!;
  const lineHeight = line ? line.height + GAP : 0;
  const belowHeight = lineHeight + Math.max(0, ...below.map(heightOf));
  // Beside the heads when there is room for a readable column, and when that makes the drawing no taller.
  const aside = asideWidth >= textSize * 14 && heightOf(beside) + 6 <= lastHeight + belowHeight;

  let rowsBottom = 2;
  const tops = rowHeights.map((rowTall) => {
    const top = rowsBottom;
    rowsBottom += rowTall;
    return top;
  });
  const besideTop = tops[tops.length - 1]! + 6;
  const bottom = aside ? Math.max(rowsBottom, besideTop + heightOf(beside)) : rowsBottom + belowHeight;
  const height = Math.ceil(bottom + 2);
  const pins = sites.map(({ site }, i) => ({ number: i + 1, site }));

  const draw = (): ScalpMap => {
    const parts = rows.map((row, i) => {
      const rowWidth = frameWidth(row) * scale + (row.length - 1) * between;
      const x = aside && row === last ? 2 : (width - rowWidth) / 2;
      return drawRow(row, [x, tops[i]!], between, sites, extent, words, look);
    });
    if (aside) parts.push(stack(beside, width - 2 - asideWidth, besideTop));
    else {
      if (line) parts.push(line.draw(2, rowsBottom));
      below.forEach((blocks, i) => {
        parts.push(stack(blocks, 2 + i * (columnWidth + 14), rowsBottom + lineHeight));
      });
    }
    const alt = altText(sites, extent, words, ageYears);
    return { svg: drawing(width, height, alt, parts.join("")), alt, pins, width, height };
  };
  return { pins, width, height, draw };
}

/** The fewest rows in which the heads are not too small, `most` views to a row, and the scale they come out at. */
function fitRows(
  views: readonly View[],
  most: number,
  width: number,
  between: number,
  largest: number,
): { rows: View[][]; scale: number } {
  const rows = toRows(views, most);
  const scale = Math.min(...rows.map((row) => (width - (row.length - 1) * between) / frameWidth(row)));
  if (scale < SMALLEST_SCALE && most > 1) return fitRows(views, most - 1, width, between, largest);
  return { rows, scale: Math.min(rows.length === 1 ? largest : LARGEST_IN_ROWS, scale) };
}

/** As few rows as fit, evenly filled; all five in two rows are set as both sides and the top, then face and back. */
function toRows(views: readonly View[], most: number): View[][] {
  if (views.length === 5 && (most === 3 || most === 4)) {
    return [
      ["left", "above", "right"],
      ["front", "behind"],
    ];
  }
  const rows = Math.ceil(views.length / Math.max(1, most));
  const each = Math.ceil(views.length / rows);
  return Array.from({ length: rows }, (_, i) => views.slice(i * each, (i + 1) * each)).filter(
    (row) => row.length > 0,
  );
}

const GAP = 4;

function heightOf(blocks: readonly Block[]): number {
  return blocks.reduce((sum, block, i) => sum + block.height + (i > 0 ? GAP : 0), 0);
}

function stack(blocks: readonly Block[], x: number, top: number): string {
  let y = top;
  return blocks
    .map((block) => {
      const drawn = block.draw(x, y);
      y += block.height + GAP;
      return drawn;
    })
    .join("");
}

/** Fills columns from the left so that none is much taller than the rest. */
function toColumns(blocks: readonly Block[], columns: number): Block[][] {
  const filled: Block[][] = [[]];
  const fair = Math.max(heightOf(blocks) / columns, ...blocks.map((block) => block.height + GAP));
  for (const block of blocks) {
    const column = filled[filled.length - 1]!;
    if (column.length > 0 && filled.length < columns && heightOf(column) + block.height > fair * 1.05)
      filled.push([block]);
    else column.push(block);
  }
  return filled;
}

export { ENGLISH_MAP_WORDS, ENGLISH_PLAIN_MAP_WORDS, type MapWords } from "./map/phrases.js";

/** The words beside the map: what each number is, how dark means how much, and the scale. */

import { fill } from "../../base/text.js";
import { AREAS } from "../../visit/areas.js";
import type { Extent, Site } from "../../visit/visit.js";
import type { Point } from "../curve.js";
import { element } from "../svg.js";
import { label, wrap, wrapWell } from "../text.js";
import { areaWords, millimetres, scaleNotes } from "./alt-text.js";
import { drawPatch } from "./patch.js";
import type { MapWords } from "./phrases.js";
import { disc } from "./pin.js";
import { shaded, shadeOf } from "./shading.js";

/** In points: smaller type is lost on a copy. */
export const SMALLEST_TYPE = 8;

/** Something with a height that can be drawn at a place; blocks are never split. */
export interface Block {
  readonly height: number;
  draw(x: number, y: number): string;
}

export interface LegendLook {
  readonly textSize: number;
  readonly pinRadius: number;
  readonly scale: number;
  readonly ageYears: number;
  readonly patchScale: number;
  /** Notes as large as the rest, for readers who need it. */
  readonly plain: boolean;
  readonly key: boolean;
}

/**
 * The shades in one line `width` wide (points), or in two where a label is wider than its share of one, for a map whose legend
 * stands below; undefined without an extent or where a label would be wider than half.
 */
export function shadesBelow(
  extent: Extent | undefined,
  words: MapWords,
  width: number,
  size: number,
): Block | undefined {
  if (extent === undefined || Object.keys(extent).length === 0) return undefined;
  const said = shadesSaid(extent, words);
  const [w, h] = [size * 2.3, size * 1.15];
  const inLine = [said.length, Math.ceil(said.length / 2)].find((n) =>
    said.every(({ text }) => wrap(text, size, width / n - w - 13).length === 1),
  );
  if (inLine === undefined || wrap(words.legendTitle, size * 1.06, width).length > 1) return undefined;
  const head = size * 1.25 + 6;
  const step = size * 1.55;
  return {
    height: head + h + 3 + step * (Math.ceil(said.length / inLine) - 1),
    draw: (x, y) =>
      label(words.legendTitle, x, y + 3 + size * 0.95, { size, bold: true }) +
      said
        .map(({ percent, text }, k) => {
          const left = x + (k % inLine) * (width / inLine);
          const top = y + head + Math.floor(k / inLine) * step;
          return (
            swatch(percent, left, top, w, h) + label(text, left + w + 5, top + h / 2 + size * 0.36, { size })
          );
        })
        .join(""),
  };
}

/** The legend as blocks at most `width` wide (points), in reading order. */
export function legend(
  sites: readonly Site[],
  extent: Extent | undefined,
  words: MapWords,
  width: number,
  look: LegendLook,
): Block[] {
  const { textSize: size } = look;
  const blocks: Block[] = [];
  if (look.key) blocks.push(...sites.map((site, i) => keyLine(site, i + 1, words, width, look)));
  if (extent !== undefined && Object.keys(extent).length > 0) blocks.push(shades(extent, words, width, size));
  const patches = sites.flatMap(({ patch }) => patch ?? []);
  const blurred = look.plain ? [] : patches.filter(({ margin }) => margin === "blurred");
  const mixed = blurred.length > 0 && blurred.length < patches.length;
  if (mixed) blocks.push(blurredPatch(words, width, look));
  if (patches.length > 0)
    blocks.push(
      scaleBar(words, width, look, [
        blurred.length > 0 && !mixed ? "blurred" : undefined,
        scaleNotes(sites, words, look.ageYears),
      ]),
    );
  return blocks;
}

function keyLine(site: Site, number: number, words: MapWords, width: number, look: LegendLook): Block {
  const { textSize: size, pinRadius } = look;
  const region = words.regions[site.site];
  const { patch } = site;
  let text = region;
  if (patch !== undefined) {
    text = fill(words.keyPatch, {
      region,
      length: millimetres(patch.lengthMm),
      width: millimetres(patch.widthMm),
    });
    if (patch.margin !== undefined && words.margins[patch.margin] !== "")
      text += `, ${words.margins[patch.margin]}`;
  }
  const indent = 2 * pinRadius + 4;
  const lines = wrap(text, size, width - indent);
  const step = size * 1.25;
  const first = Math.max(2 * pinRadius, step);
  return {
    height: first + (lines.length - 1) * step,
    draw: (x, y) =>
      disc(number, [x + pinRadius, y + first / 2], pinRadius) +
      lines
        .map((line, k) => label(line, x + indent, y + first / 2 + size * 0.36 + k * step, { size }))
        .join(""),
  };
}

/** One line for each area; areas without loss share one where another has some. */
function shadesSaid(extent: Extent, words: MapWords): { percent: number | undefined; text: string }[] {
  const none = AREAS.filter((area) => extent[area] === 0);
  const isShared = none.length > 1 && none.length < AREAS.length;
  const each = AREAS.filter((area) => !isShared || !none.includes(area)).map((area) => ({
    percent: extent[area],
    text: areaWords(area, extent, words),
  }));
  return isShared
    ? [...each, { percent: 0, text: fill(words.lost, { area: words.elsewhere, percent: 0 }) }]
    : each;
}

function shades(extent: Extent, words: MapWords, width: number, size: number): Block {
  const step = size * 1.55;
  const [w, h] = [size * 2.3, size * 1.15];
  const title = wrap(words.legendTitle, size * 1.06, width);
  const rows = shadesSaid(extent, words).map(({ percent, text }) => ({
    percent,
    lines: wrap(text, size, width - w - 5),
  }));
  const head = title.length * size * 1.25 + 6;
  const height = head + rows.reduce((sum, { lines }) => sum + step + (lines.length - 1) * size * 1.25, 0) + 3;
  return {
    height,
    draw(x, y) {
      let at = y + head;
      const parts = title.map((line, k) =>
        label(line, x, y + 3 + size * (0.95 + 1.25 * k), { size, bold: true }),
      );
      for (const { percent, lines } of rows) {
        parts.push(swatch(percent, x, at, w, h));
        lines.forEach((line, k) => {
          parts.push(label(line, x + w + 5, at + h / 2 + size * 0.36 + k * size * 1.25, { size }));
        });
        at += step + (lines.length - 1) * size * 1.25;
      }
      return parts.join("");
    },
  };
}

/** A sample of the shading of an area; an outline of dashes where the area was not estimated. */
function swatch(percent: number | undefined, x: number, y: number, w: number, h: number): string {
  const box: Point[] = [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ];
  const outline = element("rect", {
    x,
    y,
    width: w,
    height: h,
    fill: "none",
    stroke: "#555555",
    "stroke-width": 0.5,
    "stroke-dasharray": percent === undefined ? "1.5 1.5" : undefined,
  });
  return (percent === undefined ? "" : shaded(box, shadeOf(percent))) + outline;
}

/** A small patch as the map draws it, 2.3 by 1.3 times `size`. */
function samplePatch(x: number, y: number, size: number, margin: "blurred" | undefined): string {
  const [w, h] = [2.3 * size, 1.3 * size];
  const box: Point[] = [
    [x, y],
    [x + w, y],
    [x + w, y + h],
    [x, y + h],
  ];
  return drawPatch([x + w / 2, y + h / 2], [1.1 * size, 0.55 * size], margin, [box]);
}

/** What a broken outline means, where other patches have a whole one. */
function blurredPatch(words: MapWords, width: number, { textSize: size }: LegendLook): Block {
  const indent = 2.3 * size + 5;
  const lines = wrap(`${words.patchKey}, ${words.margins.blurred}`, size, width - indent);
  return {
    height: 1.3 * size + 4 + (lines.length - 1) * size * 1.25,
    draw: (x, y) =>
      samplePatch(x, y + 2, size, "blurred") +
      lines
        .map((line, k) => label(line, x + indent, y + 2 + size * (0.65 + 0.36 + 1.25 * k), { size }))
        .join(""),
  };
}

/** A measured line and what a patch looks like; the bar is drawn at the map's own scale. */
function scaleBar(
  words: MapWords,
  width: number,
  look: LegendLook,
  [margin, said]: readonly ["blurred" | undefined, string],
): Block {
  const { textSize: size, patchScale: scale } = look;
  const mm = [50, 20, 10].find((length) => length * scale <= width * 0.45) ?? 10;
  const long = mm * scale;
  const h = size * 1.3;
  const barFrom = Math.min(width - long, 2.3 * size + 5 + size * 4.2);
  // The notes stand beside the bar where that takes less height than below it.
  const indent = barFrom + long + size;
  const below = { lines: wrapWell(said, size, width), indent: 0, top: h + 1 };
  const room = width - indent;
  const beside = { lines: room > size * 8 ? wrapWell(said, size, room) : [], indent, top: -size * 0.5 };
  const heightOf = ({ lines, top }: typeof below) => Math.max(h + 3, top + lines.length * size * 1.2);
  const isBeside = beside.lines.length > 0 && heightOf(beside) < heightOf(below);
  const notes = isBeside ? beside : below;
  return {
    height: heightOf(notes) + 6,
    draw(x, above) {
      const y = above + 6;
      const mid = y + h / 2;
      const sample = samplePatch(x, y, size, margin);
      const after = x + 2.3 * size + 5;
      const bar = x + barFrom;
      const parts = [
        sample,
        label(words.patchKey, after, mid + size * 0.36, { size }),
        element("path", {
          d: `M${bar} ${mid - 2.4}v4.8M${bar} ${mid}h${long}M${bar + long} ${mid - 2.4}v4.8`,
          fill: "none",
          stroke: "#1a1a1a",
          "stroke-width": 0.9,
        }),
        label(fill(words.scaleBar, { mm }), bar + long / 2, mid - 3.2, {
          size: size,
          anchor: "middle",
        }),
      ];
      notes.lines.forEach((note, k) => {
        const baseline = y + notes.top + size * (0.9 + 1.2 * k);
        parts.push(label(note, x + notes.indent, baseline, { size: size, fill: "#444444" }));
      });
      return parts.join("");
    },
  };
}

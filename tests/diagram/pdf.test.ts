/** The PDF engine must draw every drawing: it throws on malformed ones and is silent on what it cannot do. */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { openSync } from "fontkit";
import { PDFParse } from "pdf-parse";
import pdfmake from "pdfmake";
import { expect, it } from "vitest";
import {
  ENGLISH_MAP_WORDS,
  ENGLISH_PLAIN_MAP_WORDS,
  PICTOGRAM_IDS,
  pictogram,
  rangeBar,
  scalpMap,
  trendChart,
} from "../../src/diagram/diagram.js";
import { textWidth } from "../../src/diagram/text.js";
import { REGIONS } from "../../src/visit/visit.js";
import { site } from "./site.js";

const noto = fileURLToPath(new URL("../../node_modules/@embedpdf/fonts-latin/fonts", import.meta.url));
const [normal, bold] = [join(noto, "NotoSans-Regular.ttf"), join(noto, "NotoSans-SemiBold.ttf")];

it("all drawings go into one PDF with their words", async () => {
  pdfmake.setFonts({ Roboto: { normal, bold, italics: normal, bolditalics: bold } });
  pdfmake.setLocalAccessPolicy((path) => path === normal || path === bold);
  pdfmake.setUrlAccessPolicy(() => false);
  const patch = { lengthMm: 40, widthMm: 25, margin: "blurred" as const };
  const everything = REGIONS.map((region, i) => site(region, i % 3 === 0 ? patch : undefined));
  const maps = [
    scalpMap({
      sites: everything,
      extent: { top: 60, left: 30, right: 80, back: 100 },
      words: ENGLISH_MAP_WORDS,
    }),
    scalpMap({ sites: everything, words: ENGLISH_PLAIN_MAP_WORDS, style: "plain", ageYears: 6 }),
  ];
  const charts = [
    trendChart({
      title: "Density",
      unit: "/cm²",
      points: [{ label: "12 Mar", value: 142, low: 118, high: 168 }],
    }),
    rangeBar({
      measured: { label: "Density", value: 142 },
      unit: "/cm²",
      normal: { low: 124, label: "normal" },
    }),
  ];
  const pictograms = PICTOGRAM_IDS.map((id) => ({ svg: pictogram(id) ?? "", width: 34 }));
  const rows = Array.from({ length: Math.ceil(pictograms.length / 12) }, (_, i) => ({
    columns: pictograms.slice(i * 12, i * 12 + 12),
  }));
  const bytes = await pdfmake
    .createPdf({
      content: [...maps.map(({ svg }) => ({ svg })), ...charts.map(({ svg }) => ({ svg })), ...rows],
    })
    .getBuffer();
  const parser = new PDFParse({ data: new Uint8Array(bytes) });
  const text = (await parser.getText()).text.replace(/\u00a0/g, " ");
  await parser.destroy();
  for (const region of REGIONS) expect(text).toContain(ENGLISH_MAP_WORDS.regions[region]);
  for (const words of ["From behind", "Hair lost, by area", "Back: 100 %", "Crown", "50 mm", "142"]) {
    expect(text).toContain(words);
  }
});

it("type is never wider than it was taken for when lines were broken", () => {
  const fonts = [openSync(normal), openSync(bold)];
  const phrases = [
    ...Object.values(ENGLISH_MAP_WORDS.regions),
    ...Object.values(ENGLISH_PLAIN_MAP_WORDS.regions),
    ENGLISH_MAP_WORDS.scaleNote,
    ENGLISH_MAP_WORDS.childNote,
    "Left parietal, patch 132 × 125 mm, blurred edge",
    "Größere Fläche am Hinterkopf, Übergang zum Nacken",
    "Затылочная область, участок 40 × 25 мм",
    "Vùng đỉnh đầu bên trái",
  ];
  for (const font of fonts) {
    if (!("layout" in font)) throw new Error("a collection, not a font");
    for (const phrase of phrases) {
      const width = (font.layout(phrase).advanceWidth / font.unitsPerEm) * 10;
      expect(textWidth(phrase, 10), phrase).toBeGreaterThanOrEqual(width * 0.98);
      expect(textWidth(phrase, 10), phrase).toBeLessThan(width * 1.45);
    }
  }
});

/** A drawing as pixels, for programs that cannot show vectors. The engine is plain WebAssembly, without the computer's own fonts. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { initWasm, Resvg } from "@resvg/resvg-wasm";
import { BODY_FACE, TYPEFACES } from "../type/fonts.js";

let ready: Promise<Uint8Array[]> | undefined;

/** Starts the engine once, with our own typefaces. */
function start(): Promise<Uint8Array[]> {
  ready ??= (async () => {
    const require = createRequire(import.meta.url);
    try {
      await initWasm(readFileSync(require.resolve("@resvg/resvg-wasm/index_bg.wasm")));
    } catch (error) {
      // A program beside us has started the same engine; it serves both.
      if (!/already initialized/iu.test(String(error))) throw error;
    }
    return Object.values(TYPEFACES).flatMap((face) => [readFileSync(face.normal), readFileSync(face.bold)]);
  })();
  return ready;
}

/** Dots to the point: 216 to the inch, sharp enough in print. */
const DOTS_PER_POINT = 3;

/** The drawing `svg` as a PNG on white, `widthPt` points wide; undefined when it is not well formed. */
export async function pixelsOf(svg: string, widthPt: number): Promise<Uint8Array | undefined> {
  const fontBuffers = await start();
  try {
    const drawn = new Resvg(svg, {
      background: "white",
      fitTo: { mode: "width", value: Math.round(widthPt * DOTS_PER_POINT) },
      font: { fontBuffers, defaultFontFamily: BODY_FACE, sansSerifFamily: BODY_FACE, loadSystemFonts: false },
    });
    return drawn.render().asPng();
  } catch {
    return undefined;
  }
}

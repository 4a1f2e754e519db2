/** The door of this room: a composed letter in, laid-out pages, then bytes. */
import type { Composed } from "../set/document.js";
import type { Faces } from "../type/fonts.js";
import type { Engine, EngineDocument } from "./engine.js";
import { ContentLost, checkMarked, lostFrom } from "./guard.js";
import { drawPages, laidPages } from "./patch-flow.js";
import { writeStructure } from "./patch-tags.js";
import { PATCHES } from "./patches.js";

export { ContentLost } from "./guard.js";

let loaded: Promise<Engine> | undefined;

/** The engine, patched once. Loading takes a while, so text and HTML never do. */
export function loadEngine(): Promise<Engine> {
  loaded ??= import("./private.js").then(({ ENGINE }) => {
    for (const patch of PATCHES) patch.apply(ENGINE);
    return ENGINE;
  });
  return loaded;
}

const refuseUrls = {
  resolve: () => undefined,
  resolved: () => Promise.resolve(),
};

/** Copies, since the engine writes into the font table it is given. */
function fontTable({ table }: Faces): object {
  return Object.fromEntries(Object.entries(table).map(([name, cuts]) => [name, { ...cuts }]));
}

export interface LaidOut extends Composed {
  readonly document: EngineDocument;
}

/** Lays the pages out; `print` then draws them. Throws `ContentLost` when not everything is on them. */
export async function layOut(composed: Composed): Promise<LaidOut> {
  const { Printer } = await loadEngine();
  const printer = new Printer(fontTable(composed.faces), null, refuseUrls, () => true);
  return { ...composed, document: await printer.createPdfKitDocument(composed.definition, {}) };
}

/** Draws laid-out pages; the finished file's bytes. Throws `ContentLost` unless all content handed over was placed and marked. */
export async function print({ document, root, flow }: LaidOut): Promise<Uint8Array> {
  const pages = laidPages(document);
  // No pages to look at are no proof that anything is on them.
  const handed = flow.handed(pages?.length ?? 1);
  const lost = lostFrom(pages ?? [], handed)[0];
  if (lost) throw new ContentLost(lost.block.where);
  drawPages(document);
  writeStructure(document, root);
  checkMarked(handed);
  return collect(document);
}

function collect(document: EngineDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = [];
    document.on("data", (chunk) => chunks.push(chunk as Uint8Array));
    document.on("end", () => resolve(new Uint8Array(Buffer.concat(chunks))));
    document.on("error", reject);
    document.end();
  });
}

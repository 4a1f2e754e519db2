/** PDF bytes -> the words a reader sees, with their place on the page. Reads like a viewer, by a library that shares nothing with the one that writes. */

/** One run of text; millimetres would hide rounding, so points, from the top left corner of the page. */
export interface TextRun {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** True for text that does not run level, such as the draft mark. */
  readonly turned: boolean;
  /** True when the next run starts a new line. */
  readonly endsLine: boolean;
}

export interface PageText {
  readonly width: number;
  readonly height: number;
  /** Degrees that a viewer turns the page by. */
  readonly rotation: number;
  /** True when the page does not start at its own corner, or is scaled. */
  readonly isMoved: boolean;
  readonly runs: readonly TextRun[];
}

/** Most pages that are read; a longer file is not one of ours. */
const MOST_PAGES = 500;

/** The pages of a PDF, or undefined when it cannot be read as one. */
export async function readPdf(bytes: Uint8Array): Promise<readonly PageText[] | undefined> {
  // A large library, which those who only check a visit do without.
  const { getDocumentProxy } = await import("unpdf");
  try {
    // The reader takes the buffer over, so it gets its own.
    const document = await getDocumentProxy(new Uint8Array(bytes), {
      verbosity: 0,
      disableFontFace: true,
      useSystemFonts: false,
      isEvalSupported: false,
      stopAtErrors: true,
    });
    try {
      if (document.numPages > MOST_PAGES) return undefined;
      const pages: PageText[] = [];
      for (let number = 1; number <= document.numPages; number += 1) {
        const page = await document.getPage(number);
        const [x0 = 0, y0 = 0, x1 = 0, y1 = 0] = page.view;
        const { items } = await page.getTextContent();
        const runs = items.flatMap((item: Item | { readonly type: string }) =>
          "str" in item ? [placed(item, x0, y1)] : [],
        );
        const isMoved = x0 !== 0 || y0 !== 0 || page.userUnit !== 1;
        pages.push({ width: x1 - x0, height: y1 - y0, rotation: page.rotate, isMoved, runs });
        page.cleanup();
      }
      return pages;
    } finally {
      await document.destroy();
    }
  } catch {
    return undefined;
  }
}

interface Item {
  readonly str: string;
  readonly transform: readonly number[];
  readonly width: number;
  readonly height: number;
  readonly hasEOL: boolean;
}

/** Of the height of a letter, how much lies under the line it stands on. */
const BELOW_LINE = 0.22;

function placed(item: Item, x0: number, y1: number): TextRun {
  const [a = 1, b = 0, , , e = 0, f = 0] = item.transform;
  const size = Math.hypot(a, b) || 1;
  const along = [(a / size) * item.width, (b / size) * item.width] as const;
  const up = [(-b / size) * item.height, (a / size) * item.height] as const;
  const corners = [0, 1].flatMap((i) =>
    [-BELOW_LINE, 0.75].map((j) => [e + i * along[0] + j * up[0], f + i * along[1] + j * up[1]] as const),
  );
  const xs = corners.map((c) => c[0] - x0);
  const ys = corners.map((c) => y1 - c[1]);
  return {
    text: item.str,
    left: Math.min(...xs),
    right: Math.max(...xs),
    top: Math.min(...ys),
    bottom: Math.max(...ys),
    turned: Math.abs(b) > 0.01 * size,
    endsLine: item.hasEOL,
  };
}

/** The words of some runs in the order they were set; runs that do not touch are kept apart. */
export function textOf(runs: readonly TextRun[]): string {
  let text = "";
  for (const [i, run] of runs.entries()) {
    const next = runs[i + 1];
    text += run.text;
    if (next && (run.endsLine || !touches(run, next))) text += "\n";
  }
  return text;
}

/** True when `next` goes on where `run` ends, as a word does that changes typeface in the middle. */
function touches(run: TextRun, next: TextRun): boolean {
  if (run.turned || next.turned) return false;
  const height = Math.max(run.bottom - run.top, next.bottom - next.top, 1);
  return Math.abs(next.left - run.right) < 0.15 * height && Math.abs(next.bottom - run.bottom) < 0.5 * height;
}

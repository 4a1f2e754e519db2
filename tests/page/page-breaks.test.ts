/** Page ends worked by hand on pages of forty lines: which lines, rows and tables go over, and which stay. */
import { describe, expect, it } from "vitest";
import type { Block, LaidPage } from "../../src/page/set/content.js";
import { PageBreaks } from "../../src/page/set/page-breaks.js";
import { heightOf, isWithin, spreadBlocks } from "../../src/page/set/spreads.js";

/** A page of lines 10 points apart from 20 points down, each of the block given for it. */
const page = (...lines: readonly Block[]): LaidPage => ({
  items: lines.map((block, i) => ({
    type: "line",
    item: { y: 20 + 10 * i, content: { block, tag: null }, getHeight: () => 10 },
  })),
});
const block = (rule: Block["rule"], more: Partial<Block> = {}): Block => ({
  rule,
  where: "",
  parent: null,
  breakable: true,
  node: { margin: [0, 8, 0, 0] },
  ...more,
});
const times = (count: number, one: Block) => Array<Block>(count).fill(one);
const flowOf = (blocks: readonly Block[], mayMoveTables = true) =>
  new PageBreaks(blocks, { top: 20, height: 400 }, () => [], { smallestDrawing: 0.5, mayMoveTables });

describe("a paragraph over a page end", () => {
  const mended = (onFirst: number, onLast: number, linesBefore = 1) => {
    const [before, text] = [block("text"), block("text")];
    const pages = [
      page(...times(linesBefore, before), ...times(onFirst, text)),
      page(...times(onLast, text)),
    ];
    const again = flowOf([before, text]).anotherPass(pages, []);
    return [again, text.node?.pageBreak, text.breakAtLine];
  };
  it.each([
    [1, 5, [true, "before", undefined]],
    [2, 1, [true, "before", undefined]],
    [2, 2, [false, undefined, undefined]],
    [3, 1, [true, undefined, 2]],
    [9, 1, [true, undefined, 8]],
    [5, 5, [false, undefined, undefined]],
  ] as const)("with %i lines before it and %i after", (onFirst, onLast, expected) => {
    expect(mended(onFirst, onLast)).toEqual(expected);
  });
  it("that opens its page stays as it is, however few its lines there", () => {
    expect(mended(1, 5, 0)).toEqual([false, undefined, undefined]);
  });
  it("is broken before a line once only", () => {
    const [before, text] = [block("text"), block("text")];
    const pages = [page(before, ...times(3, text)), page(text)];
    const flow = flowOf([before, text]);
    expect([flow.anotherPass(pages, []), flow.anotherPass(pages, []), text.breakAtLine]).toEqual([
      true,
      false,
      2,
    ]);
  });
});

describe("a table over a page end", () => {
  const tableOf = (rows: number) => {
    const table = block("open");
    return { table, rows: Array.from({ length: rows }, () => block("row", { parent: table })) };
  };
  /** Text, then a heading where asked for, then a table of which so many rows stand on the first page. */
  const laid = (
    linesBefore: number,
    rows: number,
    onFirst: number,
    heads: readonly Block[] = [],
    mayMove = true,
  ) => {
    const text = block("text", { breakable: false });
    const { table, rows: all } = tableOf(rows);
    const pages = [
      page(...times(linesBefore, text), ...heads, ...all.slice(0, onFirst)),
      page(...all.slice(onFirst)),
    ];
    flowOf([text, ...heads, table, ...all], mayMove).anotherPass(pages, []);
    return { moved: table.node?.pageBreak === "before", rows: all.map((row) => row.breakBefore === true) };
  };
  it("goes over whole rather than leave its first row behind, where no more than 17 in a hundred stay empty", () => {
    expect(laid(34, 4, 1).moved).toBe(true);
    expect(laid(33, 4, 1).moved).toBe(false);
    expect(laid(34, 4, 2).moved).toBe(false);
    expect(laid(34, 4, 1, [], false).moved).toBe(false);
  });
  it("takes the headings over it along, so their height counts as empty too", () => {
    const heads = (count: number) => Array.from({ length: count }, () => block("heading"));
    expect(laid(34, 4, 1, heads(1)).moved).toBe(true);
    expect(laid(33, 4, 1, heads(1)).moved).toBe(false);
    expect(laid(34, 4, 1, heads(2)).moved).toBe(true);
    expect(laid(33, 4, 1, heads(2)).moved).toBe(false);
  });
  it("takes its last row but one over with a last row that would stand alone, a first row never", () => {
    expect(laid(1, 4, 3).rows).toEqual([false, false, true, false]);
    expect(laid(1, 4, 2).rows).toEqual([false, false, false, false]);
    expect(laid(1, 2, 1).rows).toEqual([false, false]);
  });
});

describe("a heading and words that lead into what begins the next page", () => {
  const moved = (lines: number, more: Partial<Block> = {}, linesBefore = 34, mayMove = true) => {
    const text = block("text", { breakable: false });
    const [heading, lead, led] = [block("heading"), block("text"), block("whole", more)];
    const pages = [page(...times(linesBefore, text), heading, ...times(lines, lead)), page(led)];
    flowOf([text, heading, lead, led], mayMove).anotherPass(pages, []);
    return heading.node?.pageBreak === "before";
  };
  it("go along, four lines at most, where no more than 17 in a hundred stay empty and tables may move", () => {
    expect([moved(3), moved(4), moved(5)]).toEqual([true, true, false]);
    expect([moved(3, {}, 33), moved(3, {}, 34, false)]).toEqual([false, false]);
  });
  it("go along with a table in any case, where they are two lines", () => {
    const open = { rule: "open" } as const;
    expect([moved(2, open, 20), moved(3, open, 20), moved(2, open, 20, false)]).toEqual([true, false, true]);
  });
  it("stay where a paragraph follows, or something elsewhere", () => {
    expect(moved(3, { rule: "text" })).toBe(false);
    expect(moved(3, { parent: block("open") })).toBe(false);
  });
});

describe("a signature on a page of its own", () => {
  const brought = (lines: number, more: Partial<Block> = {}) => {
    const [first, text, signature] = [
      block("text", { breakable: false }),
      block("text", more),
      block("signature"),
    ];
    flowOf([first, text, signature]).anotherPass([page(first, ...times(lines, text)), page(signature)], []);
    return [text.breakAtLine, text.node?.pageBreak];
  };
  it("takes two lines of the paragraph before it along, or all of it where fewer than two would stay", () => {
    expect(brought(4)).toEqual([2, undefined]);
    expect(brought(7)).toEqual([5, undefined]);
    expect(brought(3)).toEqual([undefined, "before"]);
    expect(brought(4, { rule: "whole" })).toEqual([undefined, "before"]);
  });
});

it("a heading with one line of its text below it goes with that text to the next page, with two it stays", () => {
  const moved = (linesBelow: number) => {
    const [before, heading, text] = [block("text"), block("heading"), block("text")];
    const flow = flowOf([before, heading, text]);
    const onFirst = [before, before, heading, ...times(linesBelow, text)];
    flow.anotherPass([page(...onFirst), page(text, text, text)], []);
    return heading.node?.pageBreak;
  };
  expect(moved(1)).toBe("before");
  expect(moved(2)).toBeUndefined();
});

it("a drawing that opens a page is set smaller by just what the page before lacks, at half its size at least", () => {
  const sizeAfter = (linesBefore: number) => {
    const text = block("text");
    const figure = block("whole", { drawing: { fit: [150, 100] } });
    // The drawing and two lines of words under it.
    const pages = [page(...times(linesBefore, text)), page(...times(12, figure))];
    const again = flowOf([text, figure]).anotherPass(pages, []);
    expect(again).toBe(figure.drawing?.fit?.[1] !== 100);
    return figure.drawing?.fit;
  };
  // 400 - 10 a line - 8 above the figure - 4 to spare - 20 for its words.
  expect(sizeAfter(30)).toEqual([102, 68]);
  expect(sizeAfter(31)).toEqual([87, 58]);
  expect(sizeAfter(32)).toEqual([150, 100]);
  expect(sizeAfter(27)).toEqual([147, 98]);
  expect(sizeAfter(26)).toEqual([150, 100]);
});

it("a drawing that opens a page all the same has its size back", () => {
  const text = block("text");
  const figure = block("whole", { drawing: { fit: [150, 100] } });
  const flow = flowOf([text, figure]);
  flow.anotherPass([page(...times(30, text)), page(...times(12, figure))], []);
  expect(flow.anotherPass([page(...times(30, text)), page(...times(9, figure))], [])).toBe(true);
  expect(figure.drawing?.fit).toEqual([150, 100]);
  expect(flow.anotherPass([page(...times(30, text)), page(...times(12, figure))], [])).toBe(false);
});

it("what holds together goes whole to the next page when it is split, unless it is nearly as tall as a page", () => {
  const moved = (onFirst: number, onSecond: number) => {
    const [text, whole] = [block("text"), block("whole")];
    const pages = [page(...times(2, text), ...times(onFirst, whole)), page(...times(onSecond, whole))];
    flowOf([text, whole]).anotherPass(pages, []);
    return whole.node;
  };
  expect(moved(3, 3)).toMatchObject({ pageBreak: "before", margin: [0, 0, 0, 0] });
  // 360 points of 400 are less than 92 in a hundred, 370 more.
  expect(moved(33, 3)?.pageBreak).toBe("before");
  expect(moved(34, 3)?.pageBreak).toBeUndefined();
  expect(moved(6, 0)?.pageBreak).toBeUndefined();
});

it("what may not open a hole stays split where the hole would be more than 17 in a hundred of the page", () => {
  const moved = (linesBefore: number) => {
    const text = block("text");
    const whole = block("whole", { mayOpenHole: false });
    const pages = [page(...times(linesBefore, text), whole), page(whole)];
    flowOf([text, whole]).anotherPass(pages, []);
    return whole.node?.pageBreak;
  };
  expect(moved(33)).toBeUndefined();
  expect(moved(34)).toBe("before");
});

it("a page is as full as its lowest line, and the emptiness of those before the last is counted", () => {
  const text = block("text", { breakable: false });
  const more = block("text", { breakable: false });
  const flow = flowOf([text, more]);
  expect(flow.anotherPass([page(...times(20, text)), page(...times(10, more))], [])).toBe(false);
  expect(flow.lastPageFilled).toBeCloseTo(0.25, 9);
  expect(flow.emptiness).toBeCloseTo(1 - 0.5 - 0.08, 9);
});

it("a row that lost words may be split from then on, and only once", () => {
  const row = block("row");
  const inner = block("text", { parent: row });
  const flow = flowOf([row, inner]);
  expect(flow.anotherPass([], [{ block: inner, tag: null }])).toBe(true);
  expect(row.mayBeSplit).toBe(true);
  expect(inner.mayBeSplit).toBeUndefined();
  expect(flow.anotherPass([], [{ block: inner, tag: null }])).toBe(false);
});

it("a head that is drawn again on the next page belongs to the first alone, and opens nothing there", () => {
  const table = block("open");
  const head = block("row", { parent: table, repeats: true });
  const [one, two] = [block("row", { parent: table }), block("row", { parent: table })];
  const spreads = spreadBlocks([page(head, one), page(head, two, two)]);
  const told = (of: Block) => {
    const { firstPage, lastPage, onFirst, onLast, opensPage, extents } = spreads.get(of) ?? never();
    return [
      firstPage,
      lastPage,
      onFirst,
      onLast,
      opensPage,
      ...[...extents].map(([at, { top, bottom }]) => `${at}:${top}-${bottom}`),
    ];
  };
  expect(told(head)).toEqual([0, 0, 1, 1, true, "0:20-30"]);
  expect(told(one)).toEqual([0, 0, 1, 1, false, "0:30-40"]);
  expect(told(two)).toEqual([1, 1, 2, 2, true, "1:30-50"]);
  expect(told(table)).toEqual([0, 1, 2, 2, true, "0:20-40", "1:30-50"]);
  expect(heightOf(spreads.get(table) ?? never())).toBe(40);
  expect([isWithin(two, table), isWithin(table, two), isWithin(table, table)]).toEqual([true, false, true]);
});

it("what is set apart from the flow stands nowhere in it, and what has no height ends where it begins", () => {
  const [apart, text] = [block("text", { detached: true }), block("text")];
  const item = (of: Block, y: number, more: object = {}) => ({
    type: "line",
    item: { y, content: { block: of, tag: null }, ...more },
  });
  const spreads = spreadBlocks([
    {
      items: [
        item(apart, 20),
        item(text, 60),
        item(text, 50, { _height: 7 }),
        { type: "line", item: { y: 1 } },
      ],
    },
  ]);
  expect(spreads.has(apart)).toBe(false);
  expect(spreads.get(text)).toMatchObject({ opensPage: true, onFirst: 2 });
  expect(spreads.get(text)?.extents.get(0)).toEqual({ top: 50, bottom: 60 });
});

function never(): never {
  throw new Error("nowhere");
}

/** Which setting of a letter is taken, told by pages, fullness and split tables alone. */
import { describe, expect, it } from "vitest";
import { closerIfSparse, withoutHoles } from "../../src/page/closer.js";

interface One {
  readonly name: string;
  readonly count: { readonly pages: number };
  readonly flow: {
    readonly lastPageFilled: number;
    readonly emptiness: number;
    readonly tablesSplit: number;
  };
}
const one = (name: string, pages: number, flow: Partial<One["flow"]> = {}): One => ({
  name,
  count: { pages },
  flow: { lastPageFilled: 0.9, emptiness: 0, tablesSplit: 0, ...flow },
});

/** Settings by degree, and the degrees that were tried, in their order. */
function tries(by: (degree: number) => One) {
  const tried: number[] = [];
  return {
    tried,
    closer: (degree: number) => {
      tried.push(degree);
      return Promise.resolve(by(degree));
    },
  };
}

describe("a table split over pages", () => {
  const plain = one("plain", 2, { tablesSplit: 1 });

  it("is kept whole by the less close of two settings where both do it", async () => {
    const { closer, tried } = tries((d) => one(`at ${d}`, 2));
    expect((await withoutHoles(plain, closer)).name).toBe("at 1.1");
    expect(tried).toEqual([2.4, 1.1]);
  });

  it("is kept whole by the closer one where the other leaves it split", async () => {
    const { closer } = tries((d) => one(`at ${d}`, 2, { tablesSplit: d > 2 ? 0 : 1 }));
    expect((await withoutHoles(plain, closer)).name).toBe("at 2.4");
  });

  it("stays split after one try where the closer setting leaves it so, or takes a page more", async () => {
    const split = tries((d) => one(`at ${d}`, 2, { tablesSplit: 1 }));
    expect((await withoutHoles(plain, split.closer)).name).toBe("plain");
    expect(split.tried).toEqual([2.4]);
    const longer = tries((d) => one(`at ${d}`, 3));
    expect((await withoutHoles(plain, longer.closer)).name).toBe("plain");
  });
});

describe("a hole at the foot of a page", () => {
  it("is closed by the first of two settings that closes enough of it", async () => {
    const { closer, tried } = tries((d) => one(`at ${d}`, 2, { emptiness: d > 1 ? 0.02 : 0.04 }));
    expect((await withoutHoles(one("plain", 2, { emptiness: 0.06 }), closer)).name).toBe("at 1.1");
    expect(tried).toEqual([0.5, 1.1]);
  });

  it("is not looked for where next to nothing is empty", async () => {
    const { closer, tried } = tries(() => one("never", 2));
    expect((await withoutHoles(one("plain", 2, { emptiness: 0.029 }), closer)).name).toBe("plain");
    expect(tried).toEqual([]);
  });
});

describe("a last page of a few lines", () => {
  it("is saved by the least degree that should do it, and by the closest where that does not", async () => {
    const plain = one("plain", 2, { lastPageFilled: 0.2 });
    const all = tries((d) => one(`at ${d}`, 1, { lastPageFilled: 0.8 }));
    // 4.3 x 0.2 x 0.8 / (0.2 + 1 - 0.8) = 1.72: the next degree is 2.4.
    expect((await closerIfSparse(plain, all.closer))?.name).toBe("at 2.4");
    expect(all.tried).toEqual([4.3, 2.4]);
    const last = tries((d) => one(`at ${d}`, d > 4 ? 1 : 2, { lastPageFilled: 0.8 }));
    expect((await closerIfSparse(plain, last.closer))?.name).toBe("at 4.3");
  });

  it("stays where the closest setting saves none, and where it holds more than a few lines", async () => {
    const { closer, tried } = tries((d) => one(`at ${d}`, 2));
    expect(await closerIfSparse(one("plain", 2, { lastPageFilled: 0.55 }), closer)).toBeUndefined();
    expect(tried).toEqual([4.3]);
    expect(await closerIfSparse(one("plain", 2, { lastPageFilled: 0.56 }), closer)).toBeUndefined();
    expect(tried).toEqual([4.3]);
  });
});

import { describe, expect, it } from "vitest";
import { bandsOf, cappedByHealthy, type Held, hasRelevantEvidence } from "../../src/interpret/bands.js";
import type { Band, Reason } from "../../src/interpret/interpretation.js";
import type { SecondDisorder } from "../../src/interpret/second.js";
import { DISORDERS, entry, HARBOUR, knowledgeWith, line, NET, ROPE, reason, weighedFrom } from "./parts.js";
import { smallKnowledge } from "./small-knowledge.js";

const knowledge = knowledgeWith({
  bands: {
    strongly: { odds: 8, leads: 0.9, carrier_weight: 1.2 },
    supported: { odds: 1.5, leads: 0.5 },
    possible: { share: 0.1, share_with_grounds: 0.04 },
    grounds: { weight: 2, ahead: 1, typical: 0.3 },
    listed: { against: 2, draws: 1, least: -20 },
    scarring_behind: 3,
    second_clearly: 4,
    explains: 0.5,
  },
});
const tar = entry("tar-dots", [1, 1, 1]);
const strong = [reason(1.2), reason(0.8, { id: "tar-dots" })];
const free: Held = { ahead: [1, 1, 1], back: false };

interface Given {
  readonly share?: readonly number[];
  readonly leads?: readonly number[];
  readonly reasons?: readonly (readonly Reason[])[];
  readonly second?: SecondDisorder;
  readonly held?: Held;
  readonly leading?: number;
  readonly weighed?: ReturnType<typeof weighedFrom>;
}

function bands(given: Given): Band[] {
  return bandsOf(
    given.weighed ?? weighedFrom({ entries: [tar] }),
    { share: given.share ?? [0.9, 0.05, 0.05], leads: given.leads ?? [0.95, 0.05, 0] },
    given.reasons ?? [strong, strong, strong],
    given.leading ?? HARBOUR,
    given.second,
    given.held ?? free,
    knowledge,
  );
}
const first = (given: Given) => bands(given)[HARBOUR];

describe("strongly supported", () => {
  it("asks for odds of eight, nine draws in ten and one ground that carries", () => {
    expect(first({ share: [0.8889, 0.1111, 0], leads: [0.9, 0.1, 0] })).toBe("strongly supported");
    expect(first({ share: [0.885, 0.115, 0], leads: [0.9, 0.1, 0] })).toBe("supported");
    expect(first({ leads: [0.899, 0.101, 0] })).toBe("supported");
    expect(first({ reasons: [[reason(1.19), reason(1.1)], [], []] })).toBe("supported");
  });
});

describe("supported", () => {
  const share = [0.6001, 0.3, 0.0999];
  const leads = [0.5, 0.5, 0];

  it("asks for odds of one and a half and half the draws", () => {
    expect(first({ share, leads })).toBe("supported");
    expect(first({ share: [0.59, 0.31, 0.1], leads })).toBe("possible");
    expect(first({ share, leads: [0.49, 0.51, 0] })).toBe("possible");
  });

  it("asks for two grounds of some weight together, or a test", () => {
    expect(first({ share, leads, reasons: [[reason(2)], [], []] })).toBe("possible");
    expect(first({ share, leads, reasons: [[reason(2, { kind: "test" })], [], []] })).toBe("supported");
    expect(first({ share, leads, reasons: [[reason(1.9, { kind: "test" })], [], []] })).toBe("possible");
    expect(first({ share, leads, reasons: [[reason(1), reason(1)], [], []] })).toBe("supported");
    expect(first({ share, leads, reasons: [[reason(1), reason(0.99)], [], []] })).toBe("possible");
  });

  it("takes neither history nor what was not seen as a ground", () => {
    const history = reason(5, { kind: "context" });
    const absent = reason(5, { state: "absent" });
    const against = reason(-5);
    for (const none of [history, absent, against]) {
      expect(first({ share, leads, reasons: [[reason(2), none], [], []] })).toBe("possible");
    }
  });

  it("takes no finding as a ground that only few of its patients show", () => {
    const shown = (mean: number, weight = 1) =>
      reason(weight, { frequency: { mean, low: 0, high: 1, basis: "one study" } });
    const of = (second: Reason) => first({ share, leads, reasons: [[reason(1), second], [], []] });
    expect(of(shown(0.3))).toBe("supported");
    expect(of(shown(0.29, 9))).toBe("possible");
    const sure = { share: [0.9, 0.1, 0], leads: [0.95, 0.05, 0] };
    const carried = (mean: number) =>
      first({ ...sure, reasons: [[reason(1), reason(1.1), shown(mean, 1.2)], [], []] });
    expect(carried(0.3)).toBe("strongly supported");
    expect(carried(0.29)).toBe("supported");
  });

  it("is withheld while a healthy scalp is close behind, or signs of the leader stand unexplained", () => {
    expect(first({ share, leads, held: { ahead: [0.99, 1, 1], back: false } })).toBe("possible");
    expect(first({ share, leads, held: { ahead: [1, 1, 1], back: true } })).toBe("possible");
    const other = bands({
      share: [0.3, 0.6001, 0.0999],
      leads: [0.4, 0.6, 0],
      held: { ahead: [1, 1, 1], back: true },
    });
    expect(other[NET]).toBe("supported");
  });
});

describe("a disease that the catalogue does not hold", () => {
  const asking = (least: number) =>
    knowledgeWith({ bands: { ...knowledge.weighing.bands, listed: { against: 2, draws: 1, least } } });
  const of = (least: number, total: number, reasons: readonly Reason[], leads = 0.75) =>
    bandsOf(
      weighedFrom({ entries: [tar], scores: [total, 0, 0] }),
      { share: [0.75, 0.25, 0], leads: [leads, 1 - leads, 0] },
      [reasons, [], []],
      HARBOUR,
      undefined,
      free,
      asking(least),
    )[HARBOUR];

  it("is thought of where the total is low, where something speaks against the leader, or where few draws agree", () => {
    const draws = Math.log(0.75 / 0.25);
    expect(of(5 + draws, 5, strong)).toBe("supported");
    expect(of(5.01 + draws, 5, strong)).toBe("possible");
    const doubted = [...strong, reason(-0.5), reason(-0.25, { kind: "context" })];
    expect(of(3.5 + draws, 5, doubted)).toBe("supported");
    expect(of(3.51 + draws, 5, doubted)).toBe("possible");
    expect(of(5 + Math.log(0.6 / 0.4), 5, strong, 0.6)).toBe("supported");
    expect(of(5.01 + Math.log(0.6 / 0.4), 5, strong, 0.6)).toBe("possible");
  });

  it("is thought of as much in all draws as in forty-nine of fifty", () => {
    const agreed = 5 + Math.log(0.98 / 0.02);
    expect(of(agreed - 0.001, 5, strong, 0.98)).toBe("supported");
    expect(of(agreed - 0.001, 5, strong, 0.979)).toBe("possible");
    expect(of(agreed - 0.001, 5, strong, 1)).toBe("supported");
    expect(of(agreed + 0.001, 5, strong, 1)).toBe("possible");
  });
});

describe("possible", () => {
  it("begins at a tenth of the whole, or at less when what was seen speaks for it on balance", () => {
    const third = (share: number, reasons: readonly Reason[]) =>
      bands({ share: [0.9, 0.1 - share, share], reasons: [strong, strong, reasons] })[ROPE];
    expect(third(0.04, [reason(0.5)])).toBe("possible");
    expect(third(0.039, [reason(0.5)])).toBe("unlikely");
    expect(third(0.1, [reason(0.5), reason(-0.6)])).toBe("possible");
    expect(third(0.099, [reason(0.5), reason(-0.6)])).toBe("unlikely");
    expect(third(0.099, [reason(0.5), reason(-0.5)])).toBe("unlikely");
    expect(third(0.5, [reason(3, { kind: "context" })])).toBe("unlikely");
    expect(third(0.05, [reason(0.5), reason(-9, { kind: "context" })])).toBe("possible");
  });

  it("is the least that is said of what leads", () => {
    expect(bands({ share: [0.01, 0.01, 0.01], reasons: [[], [], []] })).toEqual([
      "possible",
      "unlikely",
      "unlikely",
    ]);
  });
});

describe("a second disorder", () => {
  const pair = (gain: number, apart: number): SecondDisorder => ({
    id: "rope-wear",
    gain,
    apart,
    explains: [],
  });
  const share = [0.55, 0.05, 0.4];
  const leads = [0.5, 0.1, 0.4];

  it("that is clear stands beside the first and does not count against it", () => {
    expect(bands({ share, leads, second: pair(2, 2) })).toEqual([
      "strongly supported",
      "possible",
      "supported",
    ]);
    expect(bands({ share, leads, second: pair(2, 1.9) })).toEqual(["possible", "possible", "possible"]);
  });

  it("is possible at least", () => {
    const none = [strong, [], []];
    expect(bands({ share: [0.98, 0.01, 0.01], reasons: none, second: pair(0, 0) })[ROPE]).toBe("possible");
    expect(bands({ share: [0.98, 0.01, 0.01], reasons: none })[ROPE]).toBe("unlikely");
  });
});

describe("while a scarring sign stands", () => {
  const families = (...scarring: string[]) => ({
    ...knowledge,
    disorders: Object.fromEntries(
      Object.entries(smallKnowledge().disorders).map(([id, d]) => [
        id,
        { ...d, family: scarring.includes(id) ? ("scarring" as const) : ("non-scarring" as const) },
      ]),
    ),
  });
  const read = (scores: readonly number[], salt: ReturnType<typeof entry>, scarring = DISORDERS) =>
    bandsOf(
      weighedFrom({ entries: [salt], scores }),
      { share: [1, 0, 0], leads: [1, 0, 0] },
      [strong, [], []],
      HARBOUR,
      undefined,
      free,
      families(...scarring),
    );
  const salt = entry("salt-crust", [1, 1, 1]);

  it("the two best scarring disorders stay possible, and any within three of the best", () => {
    expect(read([9, 5, 1], salt)).toEqual(["strongly supported", "possible", "unlikely"]);
    expect(read([9, 5, 6], salt)).toEqual(["strongly supported", "unlikely", "possible"]);
    expect(read([4, 3, 1], salt)).toEqual(["strongly supported", "possible", "possible"]);
    expect(read([4, 3, 0.99], salt)).toEqual(["strongly supported", "possible", "unlikely"]);
  });

  it("other families are left alone, and without the sign so are these", () => {
    expect(read([9, 5, 6], salt, ["net-scar"])).toEqual(["strongly supported", "possible", "unlikely"]);
    expect(read([9, 5, 6], entry("tar-dots", [1, 1, 1]))).toEqual([
      "strongly supported",
      "unlikely",
      "unlikely",
    ]);
  });
});

describe("what bears on a disorder", () => {
  const rich = (weights: readonly number[], studied: readonly boolean[]) =>
    weighedFrom({ entries: [entry("tar-dots", weights, { studied })], scores: [1, 1, 1] });

  it("is a pattern, a rule or a test, not history", () => {
    expect(hasRelevantEvidence(weighedFrom({ lines: [line("net-scar", 1)] }), NET)).toBe(true);
    expect(hasRelevantEvidence(weighedFrom({ lines: [line("net-scar", 1)] }), HARBOUR)).toBe(false);
    expect(hasRelevantEvidence(weighedFrom({ lines: [line("net-scar", 1, { kind: "context" })] }), NET)).toBe(
      false,
    );
  });

  it("is any finding for the best three", () => {
    const four = { ...rich([0, 0, 0], [false, false, false]), scores: [4, 3, 2, 1] };
    expect([0, 1, 2, 3].map((d) => hasRelevantEvidence(four, d))).toEqual([true, true, true, false]);
  });

  it("is a studied finding of some weight, or unstudied ones of much", () => {
    const fourth = (weight: number, studied: boolean) => ({
      ...rich([weight, weight, weight, weight], [studied, studied, studied, studied]),
      scores: [4, 3, 2, 1],
    });
    const with4 = (weight: number, studied: boolean) => {
      const w = fourth(weight, studied);
      const [e] = w.entries;
      if (!e) throw new Error("no entry");
      const cells = [
        ...e.row.cells,
        { ...e.row.cells[0], byDefault: !studied } as (typeof e.row.cells)[number],
      ];
      return hasRelevantEvidence({ ...w, entries: [{ ...e, row: { ...e.row, cells } }] }, 3);
    };
    expect(with4(0.1, true)).toBe(true);
    expect(with4(-0.1, true)).toBe(true);
    expect(with4(0.09, true)).toBe(false);
    expect(with4(0.99, false)).toBe(false);
    expect(with4(-1, false)).toBe(true);
  });

  it("leaves the rest not assessable", () => {
    const silent = weighedFrom({ lines: [line("harbour-loss", 1)] });
    expect(bands({ weighed: silent })).toEqual(["strongly supported", "not assessable", "not assessable"]);
  });
});

describe("beside a healthy scalp", () => {
  const capped = (ahead: readonly number[], leading = HARBOUR) =>
    cappedByHealthy(["supported", "supported", "not assessable"], leading, { ahead, back: false }, 1);

  it("the leader is possible while it is ahead at all, and others must be clearly ahead", () => {
    expect(capped([0.5, 1, 0])).toEqual(["possible", "unlikely", "not assessable"]);
    expect(capped([0, 1.01, 0])).toEqual(["unlikely", "supported", "not assessable"]);
    expect(capped([0.5, 0.5, 0], NET)).toEqual(["unlikely", "possible", "not assessable"]);
  });
});

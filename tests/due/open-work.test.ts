import { describe, expect, it } from "vitest";
import type { SafetyLine } from "../../src/due/extract.js";
import { usualDays } from "../../src/due/from-others.js";
import { openWork } from "../../src/due/open-work.js";
import type { RegisterEntry, RegisterLine } from "../../src/register/line.js";
import { CLINIC, visit, work } from "./invented.js";

const LATER = { visit: "V-2", date: "2026-06-04" };
const culture = { name: "fungal culture", result: "awaited" };
const scarring: SafetyLine = {
  id: "scarring",
  why: "Scarring loses hair for good.",
  urgency: "days",
  who: "the clinic",
  open: true,
};

describe("a signed visit with nothing open", () => {
  it("leaves no line", () => {
    expect(work("2030-01-01", visit())).toEqual([]);
  });
});

describe("a draft", () => {
  it("waits since its day, and no later visit signs it", () => {
    expect(work("2026-07-01", visit({}, { signed: null }), visit(LATER))).toEqual(["draft V-1 2026-03-12!"]);
  });

  it("of a later day is for that day to tell", () => {
    expect(work("2026-03-11", visit({}, { signed: null }))).toEqual([]);
    expect(work("2026-03-12", visit({}, { signed: null }))).toEqual(["draft V-1 2026-03-12!"]);
  });
});

describe("a signed visit that no longer says what was signed", () => {
  it("waits to be signed again", () => {
    expect(work("2026-07-01", visit({}, { changed: true }))).toEqual(["changed V-1 2026-03-12!"]);
    expect(work("2026-07-01", visit({}, { changed: true, signed: null }))).toEqual(["draft V-1 2026-03-12!"]);
  });
});

describe("a visit that cannot be read", () => {
  it("is a line of its own, and hides none of the others", () => {
    const { extract: _, ...unread } = visit(LATER);
    expect(work("2026-07-01", visit({}, { signed: null }), unread)).toEqual([
      "draft V-1 2026-03-12!",
      "unreadable V-2 2026-06-04!",
    ]);
  });
});

describe("an awaited test", () => {
  const awaiting = visit({}, { tests: [{ ...culture, date: "2026-03-12" }] });

  it("is late from the day after its usual time, and waits before", () => {
    expect(work("2026-04-23", awaiting)).toEqual(["test-awaited V-1 2026-03-12 2026-04-23"]);
    expect(work("2026-04-24", awaiting)).toEqual(["test-awaited V-1 2026-03-12 2026-04-23!"]);
  });

  it("counts from the sample, not from the visit", () => {
    const sampled = visit({}, { tests: [{ ...culture, date: "2026-03-01" }] });
    expect(work("2026-04-12", sampled)).toEqual(["test-awaited V-1 2026-03-01 2026-04-12"]);
    expect(work("2026-04-13", sampled)).toEqual(["test-awaited V-1 2026-03-01 2026-04-12!"]);
  });

  it("is never late where the clinic gives no usual time", () => {
    const other = visit({}, { tests: [{ name: "scalp biopsy", result: "awaited" }] });
    expect(work("2030-01-01", other)).toEqual(["test-awaited V-1 2026-03-12"]);
  });

  it("takes the time of the longest words that stand in its name, as whole words", () => {
    expect(usualDays("Fungal culture", CLINIC.lateAfter)).toBe(42);
    expect(usualDays("bacterial culture of the scalp", CLINIC.lateAfter)).toBe(7);
    expect(usualDays("subculture", CLINIC.lateAfter)).toBeUndefined();
  });

  it.each([
    ["its result, by its name", { name: "Fungal culture", result: "no growth" }, []],
    ["a figure", { name: "fungal culture", value: 0 }, []],
    ["another name that says so", { name: "mycology", result: "no growth", resultOf: "fungal culture" }, []],
    ["another test", { name: "mycology", result: "no growth" }, ["V-1"]],
    ["words that say there is none yet", { name: "fungal culture", result: "pending" }, ["V-2"]],
    [
      "a sample that told nothing",
      { name: "fungal culture", result: "insufficient; repeat advised" },
      ["V-1"],
    ],
    ["a result so far", { name: "fungal culture", result: "no growth so far" }, ["V-1"]],
    ["a sample from before", { name: "fungal culture", result: "no growth", date: "2026-03-11" }, ["V-1"]],
    ["the sample itself", { name: "fungal culture", result: "no growth", date: "2026-03-12" }, []],
  ])("meets at a later visit: %s", (_, test, open) => {
    const lines = work("2026-06-05", awaiting, visit(LATER, { tests: [test] }));
    expect(lines).toEqual(open.map((id) => `test-awaited ${id} 2026-03-12 2026-04-23!`));
  });

  it("is not closed by a visit of the same day, nor by an earlier one", () => {
    const result = { tests: [{ name: "fungal culture", result: "no growth" }] };
    expect(work("2026-04-01", awaiting, visit({ visit: "V-2" }, result))).toHaveLength(1);
    expect(work("2026-04-01", awaiting, visit({ visit: "V-0", date: "2026-01-01" }, result))).toHaveLength(1);
  });

  it("is given up by acceptance, then or later", () => {
    const accepts = ["test-awaited"];
    expect(work("2026-07-01", visit({ accepts }, { tests: [culture] }))).toEqual([]);
    expect(work("2026-07-01", awaiting, visit({ ...LATER, accepts }))).toEqual([]);
  });
});

describe("two people", () => {
  const result = { tests: [{ name: "fungal culture", result: "no growth" }] };
  const awaiting = visit({}, { tests: [culture], followUpWeeks: 4 });
  const open = ["follow-up-missed V-1 2026-03-12 2026-04-15!", "test-awaited V-1 2026-03-12 2026-04-23!"];

  it("are never mixed: another number closes nothing", () => {
    expect(work("2026-07-01", awaiting, visit({ ...LATER, patient: "TS-40418" }, result))).toEqual(open);
  });

  it.each([
    ["born", { born: "1990-07-04" }],
    ["given name", { given: "Tova" }],
    ["family name", { family: "Vale" }],
    ["sex", { sex: "male" }],
  ])("under one number are told apart by %s, until the later visit accepts it", (_, differs) => {
    expect(work("2026-07-01", awaiting, visit({ ...LATER, ...differs }, result))).toEqual(open);
    const accepts = ["born-differs", "given-differs", "family-differs", "sex-differs"];
    expect(work("2026-07-01", awaiting, visit({ ...LATER, ...differs, accepts }, result))).toEqual([]);
  });

  it("leave a doubtful visit to stand alone, as a line of its own", () => {
    const doubtful = visit(LATER, result, ["One photo stands in visits of two patients."]);
    expect(work("2026-07-01", awaiting, doubtful)).toEqual([...open, "doubt V-2 2026-06-04!"]);
  });
});

describe("a follow-up", () => {
  it("may come to the last day of its week", () => {
    const planned = visit({}, { followUpWeeks: 12 });
    expect(work("2026-06-10", planned)).toEqual([]);
    expect(work("2026-06-11", planned)).toEqual(["follow-up-missed V-1 2026-03-12 2026-06-10!"]);
  });

  it("is over with any later visit, even long after, or by acceptance", () => {
    const planned = visit({}, { followUpWeeks: 1 });
    expect(work("2027-01-01", planned, visit({ ...LATER, date: "2026-12-30" }, { signed: null }))).toEqual([
      "draft V-2 2026-12-30!",
    ]);
    expect(work("2027-01-01", visit({ accepts: ["follow-up-missed"] }, { followUpWeeks: 1 }))).toEqual([]);
  });

  it("is not over with another visit of the same day", () => {
    expect(work("2026-03-26", visit({}, { followUpWeeks: 1 }), visit({ visit: "V-0" }))).toEqual([
      "follow-up-missed V-1 2026-03-12 2026-03-25!",
    ]);
  });
});

describe("an action asked of others", () => {
  const ask = { who: "general practitioner", action: "Please repeat thyroid function, and tell us." };

  it("is due from the day after its day", () => {
    const asked = visit({}, { asks: [{ ...ask, by: "2026-04-23" }] });
    expect(work("2026-04-23", asked)).toEqual(["action-unanswered V-1 2026-03-12 2026-04-23"]);
    expect(work("2026-04-24", asked)).toEqual(["action-unanswered V-1 2026-03-12 2026-04-23!"]);
  });

  it("is over with a later visit on or after its day, not with one before", () => {
    const asked = visit({}, { asks: [{ ...ask, by: "2026-06-04" }] });
    expect(work("2026-07-01", asked, visit({ ...LATER, date: "2026-06-03" }))).toEqual([
      "action-unanswered V-1 2026-03-12 2026-06-04!",
    ]);
    expect(work("2026-07-01", asked, visit(LATER))).toEqual([]);
  });

  it.each([
    ["by its name", { name: "thyroid function", result: "normal" }, 0],
    ["by result_of", { name: "TSH", value: 2.8, resultOf: "thyroid function" }, 0],
    ["not by a part of a word", { name: "thyroid func", result: "normal" }, 1],
    ["not while it is awaited", { name: "thyroid function", result: "awaited" }, 1],
  ])("is answered before its day by a result: %s", (_, test, left) => {
    const asked = visit({}, { asks: [{ ...ask, by: "2026-12-31" }] });
    const lines = work("2026-07-01", asked, visit(LATER, { tests: [test] }));
    expect(lines.filter((l) => l.startsWith("action"))).toHaveLength(left);
  });

  it("without a day waits for any later visit, and is due only where it is urgent", () => {
    expect(work("2026-07-01", visit({}, { asks: [ask] }))).toEqual(["action-unanswered V-1 2026-03-12"]);
    expect(work("2026-07-01", visit({}, { asks: [{ ...ask, urgency: "soon" }] }))).toEqual([
      "action-unanswered V-1 2026-03-12!",
    ]);
    expect(work("2026-07-01", visit({}, { asks: [ask] }), visit(LATER))).toEqual([]);
  });

  it("of the clinic's own people is nobody else's", () => {
    const own = ["anneli-thorsby", "Dr Anneli Thorsby", "consultant dermatologist"];
    expect(work("2026-07-01", visit({}, { asks: own.map((who) => ({ ...ask, who })) }))).toEqual([]);
  });
});

describe("a must-not-miss line", () => {
  it("waits since it was first raised, at the visit that raised it last", () => {
    const lines = openWork(
      [visit({}, { lines: [scarring] }), visit(LATER, { lines: [{ ...scarring, urgency: "same day" }] })],
      null,
      CLINIC,
      "2026-07-01",
    );
    expect(lines).toMatchObject([
      {
        kind: "must-not-miss",
        visit: "V-2",
        path: "/clinic/V-2.yaml",
        since: "2026-03-12",
        urgency: "same day",
        who: "the clinic",
        what: "Scarring loses hair for good. (scarring)",
      },
    ]);
  });

  it("is closed by a later visit that closes it, not by one that only is silent", () => {
    const raised = visit({}, { lines: [scarring] });
    expect(work("2026-07-01", raised, visit(LATER))).toEqual(["must-not-miss V-1 2026-03-12!"]);
    expect(work("2026-07-01", raised, visit(LATER, { closes: ["scarring"] }))).toEqual([]);
    expect(work("2026-07-01", raised, visit({ visit: "V-0" }, { closes: ["scarring"] }))).toHaveLength(1);
  });

  it("raised again after it was closed waits since then", () => {
    const again = visit({ visit: "V-3", date: "2026-06-20" }, { lines: [scarring] });
    const closing = visit(LATER, { closes: ["scarring"] });
    expect(work("2026-07-01", visit({}, { lines: [scarring] }), closing, again)).toEqual([
      "must-not-miss V-3 2026-06-20!",
    ]);
  });

  it("is no line where the visit itself closed it", () => {
    expect(work("2026-07-01", visit({}, { lines: [{ ...scarring, open: false }] }))).toEqual([]);
  });
});

describe("a question nobody asked", () => {
  const unasked = [{ id: "fever-or-ill", question: "Is there fever?", urgency: "now" }] as const;

  it("is closed by a later answer", () => {
    expect(work("2026-07-01", visit({}, { unasked }), visit(LATER))).toEqual(["not-asked V-1 2026-03-12!"]);
    expect(work("2026-07-01", visit({}, { unasked }), visit(LATER, { answered: ["fever-or-ill"] }))).toEqual(
      [],
    );
  });
});

describe("the order", () => {
  it("is by urgency, then what is due, then age", () => {
    const line = (id: string, urgency: SafetyLine["urgency"]): SafetyLine => ({ ...scarring, id, urgency });
    const of = (n: number, date: string, holds: Parameters<typeof visit>[1]) =>
      visit({ patient: `P-${n}`, visit: `V-${n}`, date, family: `Family${n}` }, holds);
    expect(
      work(
        "2026-07-01",
        of(1, "2026-01-01", { tests: [{ name: "biopsy", result: "awaited" }] }),
        of(2, "2026-06-01", { signed: null }),
        of(3, "2026-05-01", { lines: [line("scarring", "soon")] }),
        of(4, "2026-06-30", { lines: [line("kerion", "same day")] }),
        of(5, "2026-02-01", { unasked: [{ id: "q", question: "Q?", urgency: "now" }] }),
        of(6, "2026-06-29", { lines: [line("zoster", "now")] }),
        of(7, "2026-06-28", { lines: [line("zoster", "now")] }),
        of(8, "2026-02-02", { followUpWeeks: 2 }),
        of(9, "2026-06-01", { lines: [line("scarring", "days")] }),
      ),
    ).toEqual([
      "must-not-miss V-7 2026-06-28!",
      "must-not-miss V-6 2026-06-29!",
      "not-asked V-5 2026-02-01!",
      "must-not-miss V-4 2026-06-30!",
      "must-not-miss V-9 2026-06-01!",
      "must-not-miss V-3 2026-05-01!",
      "follow-up-missed V-8 2026-02-02 2026-02-22!",
      "draft V-2 2026-06-01!",
      "test-awaited V-1 2026-01-01",
    ]);
  });
});

describe("the register", () => {
  const at = "2026-03-13T09:00:00Z";
  const by = "wen-castellane";
  const of = { visit: "V-1", patient: "TS-40417", edition: 1 };
  const brandt = { name: "Dr Ilse Brandt", role: "general practitioner", copy: false };
  const begun = { kind: "begun", at: "2026-03-01T08:00:00Z", by } as const;
  const signed = {
    ...of,
    kind: "signed",
    at,
    by,
    date: "2026-03-12",
    signed_at: at,
    seal: "s",
    text: "0",
    reason: "",
  } as const;
  const document = { ...of, document: "referral-letter", addressee: brandt, sha256: "0", at, by };
  const made = {
    ...document,
    kind: "made",
    seal: "s",
    dated: "2026-03-12",
    name: "a.pdf",
    pages: 2,
    how: "letter",
  } as const;
  const sent = { ...document, kind: "sent", of: "h2", how: "post", on: "2026-03-13" } as const;
  const withdrawn = { ...document, kind: "withdrawn", of: "h2", reason: "Wrong address." } as const;

  const lines = (...entries: readonly RegisterEntry[]): RegisterLine[] =>
    entries.map((entry, i) => ({ ...entry, line: i + 1, hash: `h${i}`, previous: [] }));
  const waiting = (visits: Parameters<typeof openWork>[0], ...entries: readonly RegisterEntry[]) =>
    openWork(visits, lines(begun, ...entries), CLINIC, "2026-07-01").map((l) => `${l.visit}: ${l.what}`);

  it("that has not begun says nothing of letters", () => {
    expect(openWork([visit()], null, CLINIC, "2026-07-01")).toEqual([]);
  });

  it("tells of a signed visit of which nothing was made", () => {
    const what = "V-1: The visit was signed, and none of its letters is made.";
    expect(waiting([visit()], signed)).toEqual([what]);
    expect(waiting([visit()])).toEqual([what]);
  });

  it("tells nothing of a visit signed before it began, or signed nobody knows when", () => {
    const old = (day: string) => visit({}, { signed: { at: day && `${day}T12:00+00:00`, edition: 1 } });
    expect(waiting([old("2026-02-28")])).toEqual([]);
    expect(waiting([old("2026-03-01")])).toHaveLength(1);
    expect(waiting([old("")])).toEqual([]);
  });

  it("tells of a letter made and not sent, until it is sent or withdrawn", () => {
    expect(waiting([visit()], signed, made)).toEqual([
      "V-1: The letter to Dr Ilse Brandt was made and not sent.",
    ]);
    expect(waiting([visit()], signed, made, sent)).toEqual([]);
    expect(waiting([visit()], signed, made, withdrawn)).toEqual([]);
    // Made once more of the same edition, as after a change of letterhead, it is no letter of its own.
    expect(waiting([visit()], signed, made, sent, { ...made, sha256: "1" })).toEqual([]);
  });

  it("asks for no posting of a document without an address", () => {
    expect(waiting([visit()], signed, { ...made, document: "handout", addressee: null })).toEqual([]);
  });

  it("tells of each addressee", () => {
    const copy = { ...brandt, name: "Dr Tomos Achterberg", copy: true };
    expect(waiting([visit()], signed, made, { ...made, addressee: copy }, sent)).toEqual([
      "V-1: The letter to Dr Tomos Achterberg was made and not sent.",
    ]);
  });

  it("tells of a second edition that was signed and not made, then made and not sent", () => {
    const second = { ...signed, edition: 2, reason: "Wrong side." };
    const again = visit({}, { signed: { at, edition: 2 } });
    expect(waiting([again], signed, made, sent, second)).toEqual([
      "V-1: The visit was signed (edition 2), and none of its letters is made.",
    ]);
    expect(waiting([again], signed, made, sent, second, { ...made, edition: 2 })).toEqual([
      "V-1: The letter to Dr Ilse Brandt (edition 2) was made and not sent.",
    ]);
  });

  it("tells of a letter whose visit file is gone", () => {
    expect(openWork([], lines(begun, signed, made), CLINIC, "2026-07-01")).toMatchObject([
      { kind: "not-sent", path: "", patient: { id: "TS-40417", name: "" }, since: "2026-03-13" },
    ]);
  });
});

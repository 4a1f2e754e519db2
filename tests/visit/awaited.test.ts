import { describe, expect, it } from "vitest";
import { hasResult, isAwaited, isResultOf, isSettled, resultsSince } from "../../src/visit/awaited.js";
import type { Test, Visit } from "../../src/visit/visit.js";

describe("a test", () => {
  it.each([
    ["no figure and no words", {}, "awaited"],
    ["awaited", { result: "Awaited." }, "awaited"],
    ["pending", { result: "pending" }, "awaited"],
    ["sent", { result: "sent" }, "awaited"],
    ["awaited, and why", { result: "awaited (repeat sample)" }, "awaited"],
    ["sent somewhere", { result: "sent to the mainland on 12 March" }, "awaited"],
    ["taken on a day", { result: "taken 12 March" }, "awaited"],
    ["still awaited", { result: "still awaited" }, "awaited"],
    ["to follow", { result: "To follow" }, "awaited"],
    ["in progress", { result: "in progress since Monday" }, "awaited"],
    ["sent, with a stop", { result: "sent." }, "awaited"],
    ["taken, with a comma", { result: "taken, at the practice" }, "awaited"],
    ["ordered, in brackets", { result: "ordered (urgent)" }, "awaited"],
    ["requested without a space before the bracket", { result: "requested(urgent)" }, "awaited"],
    ["booked for a day", { result: "booked for  3 May" }, "awaited"],
    ["planned with two spaces before the figure", { result: "planned  3 May" }, "awaited"],
    ["sent on today", { result: "sent today" }, "awaited"],
    ["a word that goes on", { result: "sentinel cells seen" }, "told"],
    ["a longer word after sent", { result: "sent format: 3 hyphae" }, "told"],
    ["a longer word after pending", { result: "pendingitis" }, "told"],
    ["a result, and another awaited", { result: "negative; a second one awaited" }, "told"],
    ["a result, and another declined", { result: "negative; biopsy declined" }, "told"],
    ["not needed", { result: "not needed any more" }, "neither"],
    ["refused", { result: "refused" }, "neither"],
    ["spaces alone", { result: "  " }, "awaited"],
    ["words that only begin so", { result: "sent back: Trichophyton grown" }, "told"],
    ["not done, and why", { result: "not done (child upset)" }, "neither"],
    ["not grown", { result: "not grown" }, "told"],
    ["a figure, whatever the words", { value: 0, result: "awaited" }, "told"],
    ["negative", { result: "negative" }, "told"],
    ["declined", { result: "declined" }, "neither"],
    ["offered and put off", { result: "offered, wants to think" }, "neither"],
  ])("with %s", (_, test, is) => {
    expect([isAwaited(test), hasResult(test)]).toEqual([is === "awaited", is === "told"]);
  });

  it.each([
    "no growth, await day 14",
    "culture awaiting species",
    "histology pending",
    "insufficient tissue",
    "inadequate sample",
    "unsatisfactory smear",
    "non-diagnostic",
    "non diagnostic",
    "nondiagnostic",
    "inconclusive",
    "equivocal titre",
    "indeterminate",
    "sample not processed",
    "lost in the post",
    "leaked on the way",
    "haemolysed",
    "hemolysed",
    "contaminated",
    "mislabelled",
    "mislabeled",
    "rejected by the laboratory",
    "low; repeat advised",
    "repeat needed",
    "repeat requested",
    "repeat sample taken",
    "interim: hyphae",
    "preliminary report: hyphae",
    "nothing so far",
    "no growth yet",
    "no growth at 1 day",
    "no growth at 7 days",
  ])("with the words %s is not settled, and is with a figure", (result) => {
    expect(isSettled({ result })).toBe(false);
    expect(isSettled({ result, value: 4 })).toBe(true);
  });

  it.each([
    "no growth",
    "no growth at 8 days",
    "no growth at 14 days",
    "Trichophyton tonsurans grown",
    "negative, no repeat",
    "diagnostic of lupus",
    "lostatin level normal",
    "labelled antibodies found",
  ])("with the words %s is settled", (result) => {
    expect(isSettled({ result })).toBe(true);
  });

  it("answers one of its name, or of the name it gives, and nothing taken after it", () => {
    const awaited = { name: "fungal culture", date: "2026-03-12" };
    const grown = { name: "Fungal-Culture", result: "T. tonsurans" };
    expect(isResultOf(grown, awaited)).toBe(true);
    expect(isResultOf({ ...grown, resultOf: "biopsy" }, awaited)).toBe(false);
    expect(isResultOf({ name: "mycology", result: "grown", resultOf: "fungal culture" }, awaited)).toBe(true);
    expect(isResultOf({ ...grown, date: "2026-03-11" }, awaited)).toBe(false);
    expect(isResultOf({ ...grown, date: "2026-03-12" }, awaited)).toBe(true);
    expect(isResultOf({ name: "fungal culture", result: "declined" }, awaited)).toBe(false);
  });
});

describe("results since an earlier visit", () => {
  const at = (id: string, date: string, ...tests: Test[]) => ({ id, date, tests }) as unknown as Visit;
  const awaited = { name: "culture", result: "awaited" };
  const grown = { name: "culture", result: "grown" };
  const told = (visit: Visit, ...earlier: Visit[]) =>
    resultsSince(visit, earlier).map((r) => `${r.test.name} of ${r.visit}, ${r.date}`);

  it("name the last visit that awaited them", () => {
    const first = at("V-1", "2026-01-01", awaited);
    const second = at("V-2", "2026-02-01", awaited);
    const now = at("V-3", "2026-03-01", grown);
    expect(told(now, second, first)).toEqual(["culture of V-2, 2026-02-01"]);
    expect(told(now, first)).toEqual(["culture of V-1, 2026-01-01"]);
    expect(told(now)).toEqual([]);
  });

  it("are told once", () => {
    const first = at("V-1", "2026-01-01", awaited);
    const second = at("V-2", "2026-02-01", grown);
    expect(told(at("V-3", "2026-03-01", grown), first, second)).toEqual([]);
  });

  it("come from visits of an earlier day alone", () => {
    expect(told(at("V-2", "2026-01-01", grown), at("V-1", "2026-01-01", awaited))).toEqual([]);
    expect(told(at("V-2", "2026-01-01", grown), at("V-3", "2026-01-02", awaited))).toEqual([]);
  });
});

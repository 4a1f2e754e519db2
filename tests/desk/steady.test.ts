/** What a hand relies on while the desk works beside it: rows stay where they are, and no weighing that is due is forgotten. */
import { afterEach, expect, it, vi } from "vitest";
import type { VisitState } from "../../src/desk/messages.js";
import { browser, desk, deskBefore } from "./open-before.js";
import { openPage, openVisit, saved } from "./open-desk.js";

const DRAFT = "TS-41388/2026-09-22.yaml";
deskBefore(["TS-41388"]);
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

it("keeps the rows of the likeliest findings where they stand, and lets new ones join below", async () => {
  const { page, context, complaints } = await openPage(browser, desk, { width: 1280, height: 900 });
  await openVisit(page, DRAFT);
  await saved(page);
  await page.getByRole("tab", { name: /Likely here/iu }).click();
  const rows = () =>
    page.locator(".finding .row").evaluateAll((all) => all.map((row) => row.dataset.finding));
  const before = await rows();
  expect(before.length).toBeGreaterThan(5);
  // From now on the desk finds another order, and one finding more.
  let sent = 0;
  for (const route of ["edit", "settle"])
    await page.route(`**/api/${route}`, async (request) => {
      const response = await request.fetch();
      const state = (await response.json()) as VisitState;
      const likely = Object.fromEntries(
        Object.entries(state.likely).map(([region, ids]) => [region, ["hair-casts", ...[...ids].reverse()]]),
      );
      sent++;
      await request.fulfill({ response, json: { ...state, likely } });
    });
  await page.locator(".finding .pad button").nth(2).click();
  await expect.poll(() => sent).toBeGreaterThan(1);
  await saved(page);
  const after = await rows();
  expect(after.slice(0, before.length)).toEqual(before);
  expect(new Set(after)).toEqual(new Set([...before, "hair-casts"]));
  expect(complaints).toEqual([]);
  await context.close();
});

/** A page without a browser: what it asks of the desk, and answers that wait until they are let go. */
async function talking(...held: readonly string[]) {
  vi.useFakeTimers();
  vi.stubGlobal("sessionStorage", { getItem: () => "", setItem: () => undefined });
  vi.stubGlobal("document", { hidden: false });
  const state = (settled: boolean, of: unknown = null): VisitState =>
    ({
      file: "v.yaml",
      hash: "1",
      written: { visit: { id: "V-1" } },
      signed: false,
      problems: [],
      settled,
      isUnweighed: false,
      reasoning: of,
    }) as unknown as VisitState;
  const asked: string[] = [];
  const waiting: (() => void)[] = [];
  vi.stubGlobal("fetch", async (address: string, { body }: { body: string }) => {
    const route = address.replace("/api/", "");
    asked.push(route);
    if (held.includes(route)) await new Promise<void>((go) => waiting.push(go));
    const { pane } = JSON.parse(body) as { pane?: string };
    return new Response(JSON.stringify(state(route !== "edit", pane === "reasoning" ? {} : null)));
  });
  const { OpenVisit } = await import("../../src/desk/page/open-visit.js");
  const visit = new OpenVisit(state(true), "letter");
  const answer = async (): Promise<void> => {
    waiting.shift()?.();
    await vi.advanceTimersByTimeAsync(100);
  };
  return { visit, asked, answer };
}

it("asks for a weighing that came due while it looked whether the file is the same", async () => {
  const { visit, asked, answer } = await talking("peek");
  // An edit just before the desk looks at the file; the weighing comes due while the answer to that is on its way.
  await vi.advanceTimersByTimeAsync(1900);
  visit.put(["visit", "reason"], "Itch");
  await vi.advanceTimersByTimeAsync(600);
  expect(asked).toEqual(["edit", "peek"]);
  await answer();
  expect(asked).toEqual(["edit", "peek", "settle"]);
  expect(visit.state.settled).toBe(true);
  await vi.advanceTimersByTimeAsync(1000);
  expect(asked).toEqual(["edit", "peek", "settle"]);
  visit.close();
});

it.each(["undo", "edit", "peek"] as const)(
  "asks for a pane that was chosen while an answer to %s was on its way",
  async (route) => {
    const { visit, asked, answer } = await talking(route);
    if (route === "undo") void visit.undo();
    else if (route === "edit") visit.put(["visit", "reason"], "Itch");
    else await vi.advanceTimersByTimeAsync(2000);
    await vi.advanceTimersByTimeAsync(10);
    expect(asked).toEqual([route]);
    void visit.show("reasoning");
    await answer();
    expect(asked).toEqual([route, "settle"]);
    expect(visit.state.reasoning).not.toBeNull();
    visit.close();
  },
);

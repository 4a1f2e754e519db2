/**
 * Two tabs and an editor on one file: what is written stands at the place it was written for, and nowhere else. With `WHORL_RUNS=1` a few edits;
 * `DESK_EDITS=200 npx vitest run tests/desk/together.test.ts` makes as many as are named, `DESK_SEED` chooses others.
 */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Page } from "playwright-core";
import { expect, it } from "vitest";
import { parse, stringify } from "yaml";
import { LONG } from "../runs.js";
import { browser, desk, deskBefore } from "./open-before.js";
import { openPage, openVisit, saved } from "./open-desk.js";

deskBefore();

const EDITS = Number(process.env.DESK_EDITS ?? 10);
/** Finds what hangs, never what is slow. */
const HANGS = 300_000 + EDITS * 20_000;
/** After so long what is not there was taken away, on a slow machine too. */
const NEAR = { timeout: 30_000 };
const SEED = Number(process.env.DESK_SEED ?? 7);
const FILE = "TS-41388/2026-09-22.yaml";

interface Place {
  readonly site: string;
  readonly at?: { readonly x: number; readonly y: number };
  notes?: string;
  findings: Record<string, unknown>;
}
type Sheet = Record<string, unknown> & { sites: Place[] };

/** Marsaglia's xorshift: the same edits for the same seed. */
function draws(seed: number): (most: number) => number {
  let state = seed | 0 || 1;
  return (most) => {
    state ^= state << 13;
    state ^= state >>> 17;
    state ^= state << 5;
    return (state >>> 0) % most;
  };
}

/** Each place carries a count that nobody changes: by it the place is known wherever it stands. */
const place = (mark: number, site: string, x: number): Place => ({
  site,
  at: { x, y: 0.5 },
  findings: { "yellow dots": { count: mark, fields: 9 } },
});
const markOf = ({ findings }: Place): number =>
  (findings["yellow dots"] as { count: number } | undefined)?.count ?? 0;

const FIRST: readonly Place[] = [
  place(101, "left parietal", 0.5),
  place(102, "vertex", 0.2),
  place(103, "vertex", 0.8),
  place(104, "occipital", 0.5),
  place(105, "right parietal", 0.5),
];
const NEW_REGIONS = ["frontal", "mid-scalp", "nape", "left temporal", "right temporal"];

const path = () => join(desk.folder, FILE);
const sheet = (): Sheet => parse(readFileSync(path(), "utf8")) as Sheet;
const write = (change: (sheet: Sheet) => void) => {
  const now = sheet();
  change(now);
  writeFileSync(path(), stringify(now));
};

/** The mark of the place on show: what a person reads there. */
const shownMark = (page: Page): Promise<number | undefined> =>
  page.evaluate(() => {
    const tally = document.querySelector("#site-panel .tally")?.textContent ?? "";
    const [, mark] = /yellow dots (\d+) in 9 fields/u.exec(tally) ?? [];
    return mark === undefined ? undefined : Number(mark);
  });

/** The place that is chosen, as its tab names it; empty when the one that was chosen is gone. */
const shownPlace = (page: Page): Promise<string> =>
  page.evaluate(() =>
    (document.querySelector('.site-tabs [aria-selected="true"]')?.textContent ?? "")
      .replace(/^\d+/u, "")
      .trim(),
  );

/** Answers what both wrote, as somebody would who reads both texts, then waits until all is saved. */
async function settle(page: Page, keep: "page" | "file"): Promise<boolean> {
  const panel = page.getByRole("region", { name: "The file changed underneath" });
  let met = false;
  for (let i = 0; i < 2400; i++) {
    if ((await panel.count()) > 0) {
      met = true;
      expect(await panel.locator("tbody tr").count()).toBeGreaterThan(0);
      await panel
        .getByRole("button", {
          name: `Keep what is ${keep === "page" ? "on this page" : "in the file"} there`,
        })
        .click();
    }
    if ((await page.locator('[data-saving="saved"]').count()) > 0 && (await panel.count()) === 0) {
      const onPage = await page.evaluate(() => document.querySelectorAll(".site-tabs [role=tab]").length);
      if (onPage === sheet().sites.length) return met;
    }
    await page.waitForTimeout(25);
  }
  throw new Error("the page never settled");
}

it.runIf(LONG || process.env.DESK_EDITS)(
  `${EDITS} edits by two tabs and an editor: nothing lost, nothing at another place`,
  async () => {
    const draw = draws(SEED);
    write((now) => {
      now.sites = structuredClone([...FIRST]);
      delete now.accept;
    });
    const watched = await Promise.all([openPage(browser, desk), openPage(browser, desk)]);
    const pages = watched.map(({ page }) => page);
    for (const page of pages) {
      await openVisit(page, FILE);
    }
    /** By mark: the last note written for it, and the last amount. */
    const notes = new Map<number, string>();
    const amounts = new Map<number, string>();
    let marks = 200;

    const editor = (): string => {
      const kind = draw(4);
      write((now) => {
        const { sites } = now;
        if (kind === 0) sites.unshift(sites.pop() as Place);
        else if (kind === 1 && sites.length > 3) sites.splice(draw(sites.length), 1);
        else if (kind === 2 && sites.length < 8)
          sites.unshift(place(++marks, NEW_REGIONS[draw(NEW_REGIONS.length)] ?? "nape", draw(100) / 100));
        else sites.reverse();
      });
      return ["moved", "removed", "added", "reversed"][kind] ?? "";
    };

    for (let n = 1; n <= EDITS; n++) {
      const page = pages[draw(2)] as Page;
      const other = pages.find((p) => p !== page) as Page;
      const tabs = page.locator(".site-tabs [role=tab]");
      const names = await tabs.allTextContents();
      const wanted = (names[draw(names.length)] ?? "").replace(/^\d+/u, "").trim();
      const what = draw(4);
      if (draw(3) === 0) editor();
      // Where the editor took it away before the click, there is nothing to choose.
      const clicked = await tabs
        .filter({ hasText: wanted })
        .first()
        .click(NEAR)
        .then(
          () => true,
          () => false,
        );
      if (!clicked) {
        expect(sheet().sites.map(({ site }) => site)).not.toContain(wanted);
        continue;
      }
      const chosen = await shownPlace(page);
      if (chosen === "") {
        // Clicked, and taken away by the editor since.
        expect(sheet().sites.map(({ site }) => site)).not.toContain(wanted);
        continue;
      }
      expect(chosen, `edit ${n}: the place clicked`).toBe(wanted);
      const mark = await shownMark(page);
      if (draw(3) === 0) editor();
      const keep = draw(4) === 0 ? "file" : "page";
      if (mark === undefined) {
        expect(
          sheet().sites.map(({ site }) => site),
          `edit ${n}: no place on show`,
        ).not.toContain(wanted);
        continue;
      }
      let done: "note" | "amount" = "note";
      if (what < 2) {
        const field = page.getByLabel("Notes of this place");
        if (!(await field.isVisible())) await page.getByText("Counts, diameters").click();
        await field.fill(`${mark}: note ${n}.`, NEAR).catch(() => undefined);
        if ((await field.count()) === 0 || (await field.inputValue()) !== `${mark}: note ${n}.`) {
          // The place went away before anything was written.
          for (const p of pages) await settle(p, "page");
          expect(sheet().sites.map(markOf)).not.toContain(mark);
          continue;
        }
      } else {
        done = "amount";
        const button = page.getByRole("button", { name: `broken hairs: ${1 + draw(5)}` });
        const amount = await page
          .getByRole("tab", { name: "Hair shaft" })
          .click(NEAR)
          .then(() => button.getAttribute("aria-label", NEAR))
          .then((label) => label?.split(" ").at(-1) ?? "")
          .catch(() => null);
        // The same amount once more would take it off again.
        if (amount !== null && amounts.get(mark) === amount) continue;
        const isThere =
          amount !== null &&
          (await button.focus(NEAR).then(
            () => true,
            () => false,
          ));
        if (amount === null || !isThere) {
          // The place went away before anything was recorded.
          for (const p of pages) await settle(p, "page");
          expect(sheet().sites.map(markOf)).not.toContain(mark);
          continue;
        }
        if ((await shownMark(page)) !== mark) {
          for (const p of pages) await settle(p, "page");
          continue;
        }
        await page.keyboard.press("Enter");
        amounts.set(mark, amount);
      }
      if (done === "note") notes.set(mark, `${mark}: note ${n}.`);
      // Somebody else at the same moment, elsewhere or here.
      if (draw(3) === 0) editor();
      const met = await settle(page, keep);
      await settle(other, "page");
      const now = sheet();
      const here = now.sites.find((s) => markOf(s) === mark);
      if (!here) {
        // Removed by the editor; where the page wrote meanwhile, both texts were shown and the file's was chosen.
        notes.delete(mark);
        amounts.delete(mark);
        if (met) expect(keep, `edit ${n}: lost at ${mark}`).toBe("file");
      } else if (met && keep === "file") {
        if (here.notes !== notes.get(mark)) notes.delete(mark);
        // What stood in the file before may be an amount of an earlier edit.
        const kept = here.findings["broken hairs"];
        if (kept == null) amounts.delete(mark);
        else amounts.set(mark, String(kept));
      }
      for (const site of now.sites) {
        const m = markOf(site);
        expect(m, `edit ${n}: a place without its mark`).toBeGreaterThan(100);
        if (notes.has(m)) expect(site.notes, `edit ${n}: note of ${m}`).toBe(notes.get(m));
        if (site.notes !== undefined)
          expect(site.notes.startsWith(`${m}:`), `edit ${n}: ${site.notes} at ${m}`).toBe(true);
        if (amounts.has(m))
          expect(site.findings["broken hairs"], `edit ${n}: amount of ${m}`).toBe(amounts.get(m));
        else if (!met) expect(site.findings["broken hairs"], `edit ${n}: amount of ${m}`).toBeUndefined();
      }
      expect(new Set(now.sites.map(markOf)).size, `edit ${n}: a place twice`).toBe(now.sites.length);
    }
    for (const { page, context, complaints } of watched) {
      await saved(page);
      expect(complaints).toEqual([]);
      await context.close();
    }
    expect(desk.faults).toEqual([]);
  },
  HANGS,
);

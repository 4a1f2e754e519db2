/** What a machine can check of accessibility, in light and in dark, at a desk and on a tablet; and no request to anywhere else. */
import type { Page } from "playwright-core";
import { describe, expect, it } from "vitest";
import { LONG } from "../runs.js";
import { OF_THE_LOOK, violations } from "./axe-in-page.js";
import { browser, desk, deskBefore } from "./open-before.js";
import { drawn, openPage, openVisit } from "./open-desk.js";

deskBefore();

const LOOKS = [
  { width: 1280, height: 800, rules: undefined },
  { width: 1024, height: 768, hasTouch: true, rules: OF_THE_LOOK },
] as const;

/** Colours that pass slowly from one scheme to the other are at the end of their way. */
async function inScheme(page: Page, colorScheme: "light" | "dark"): Promise<void> {
  await page.emulateMedia({ colorScheme });
  await page.evaluate(() => {
    for (const animation of document.getAnimations()) animation.finish();
  });
}

describe.each(LONG ? LOOKS : LOOKS.slice(0, 1))("the desk at $width", ({ rules, ...look }) => {
  /** In light, and at a desk in dark as well (the form always, other states with `WHORL_RUNS=1`): each state is gone to once. */
  async function found(page: Page, inDarkToo = LONG): Promise<string[]> {
    const inLight = await violations(page, "html", rules);
    if (rules || !inDarkToo) return inLight;
    await inScheme(page, "dark");
    const inDark = await violations(page, "html", OF_THE_LOOK);
    await inScheme(page, "light");
    return [...inLight, ...inDark.map((one) => `in dark: ${one}`)];
  }

  it("has no violation in the list, the form, the panes and the dialogs, and asks nobody else", async () => {
    const { page, context, complaints } = await openPage(browser, desk, look);
    await page.getByRole("button", { name: "New visit" }).click();
    expect(await found(page), "list and new visit").toEqual([]);
    await page.getByRole("button", { name: "Not now" }).click();
    await openVisit(page, "TS-41388/2026-09-22.yaml");
    await drawn(page);
    await page.locator('[data-finding="yellow-dots"]').click();
    await page.getByText("Visit number, address").click();
    await page.getByRole("combobox", { name: /Find, type or dictate/u }).fill("hair");
    await page.getByLabel("Born").fill("1997");
    await page.locator("#who .said .error").first().waitFor();
    expect(await found(page, true), "form, letter, type-ahead, an error").toEqual([]);
    await page.getByRole("tab", { name: "Problems" }).click();
    expect(await found(page), "problems").toEqual([]);
    await page.getByRole("button", { name: "Undo" }).click();
    await page.getByRole("tab", { name: "Reasoning", exact: true }).click();
    await page.locator(".disorder").first().waitFor();
    await page.getByRole("button", { name: "Sign", exact: true }).click();
    expect(await found(page), "reasoning and signing").toEqual([]);
    await page.keyboard.press("Escape");
    await openSigned(page);
    await page.getByRole("tab", { name: "Last visits" }).click();
    expect(await found(page), "a signed visit and the one before").toEqual([]);
    await page.getByRole("button", { name: "Hand over" }).click();
    expect(await found(page), "handing over").toEqual([]);
    await page.keyboard.press("Escape");
    // Nothing runs past the edge of the window.
    expect(await page.evaluate(() => document.documentElement.scrollWidth - innerWidth)).toBeLessThanOrEqual(
      0,
    );
    expect(complaints).toEqual([]);
    await context.close();
  });
});

it("is a page that axe can find fault with", async () => {
  const { page, context } = await openPage(browser, desk);
  await page.evaluate(() => document.querySelector(".bar button")?.replaceChildren());
  expect((await violations(page)).join()).toContain("button-name");
  await context.close();
});

async function openSigned(page: Page): Promise<void> {
  await page.getByRole("link", { name: "Visits" }).click();
  await openVisit(page, "TS-40417/2026-06-04.yaml");
}

it("shows where the focus is on everything that takes it", async () => {
  const { page, context } = await openPage(browser, desk);
  await openVisit(page, "TS-41388/2026-09-22.yaml");
  const bare: string[] = [];
  for (let i = 0; i < (LONG ? 60 : 40); i++) {
    await page.keyboard.press("Tab");
    const at = await page.evaluate(() => {
      const el = document.activeElement;
      if (!el || el === document.body || el.tagName === "IFRAME") return null;
      const shown = [el, el.closest("label"), el.querySelector(".touch")].some((node) => {
        if (!node) return false;
        const { outlineStyle, outlineWidth, strokeWidth, stroke } = getComputedStyle(node);
        return (
          (outlineStyle !== "none" && outlineWidth !== "0px") ||
          (node.matches(".touch") && stroke !== "none" && strokeWidth !== "1px")
        );
      });
      return shown ? null : `${el.tagName} ${el.className} ${el.textContent?.slice(0, 30)}`;
    });
    if (at) bare.push(at);
  }
  expect(bare).toEqual([]);
  await context.close();
});

/** How much a hand has to do: a new patient to signed and made letters, counted key by key and touch by touch, with real touch events. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import type { Locator, Page } from "playwright-core";
import { expect, it } from "vitest";
import { parse } from "yaml";
import { root } from "../house/source-files.js";
import { LONG } from "../runs.js";
import { browser, desk, deskBefore } from "./open-before.js";
import { openPage, saved } from "./open-desk.js";

// All of them: a hand finds a folder as full as a clinic has it.
deskBefore(readdirSync(join(root, "examples", "patients")));

/** Everything that the hand does goes through here. */
class Hand {
  keys = 0;
  touches = 0;
  constructor(private readonly page: Page) {}

  async type(text: string): Promise<void> {
    this.keys += [...text].length;
    await this.page.keyboard.type(text);
  }

  async press(key: string): Promise<void> {
    this.keys++;
    await this.page.keyboard.press(key);
  }

  async tap(target: Locator): Promise<void> {
    this.touches++;
    await target.scrollIntoViewIfNeeded();
    await target.tap();
  }

  /** What a tablet's own keyboard or its dictation writes into the field that was tapped. */
  async dictate(target: Locator, text: string): Promise<void> {
    await this.tap(target);
    await this.page.keyboard.insertText(text);
  }

  /** A finger down, along, and up: one touch. */
  async drag(path: readonly (readonly [number, number])[]): Promise<void> {
    this.touches++;
    const session = await this.page.context().newCDPSession(this.page);
    const send = (type: "touchStart" | "touchMove" | "touchEnd", at?: readonly [number, number]) =>
      session.send("Input.dispatchTouchEvent", { type, touchPoints: at ? [{ x: at[0], y: at[1] }] : [] });
    const [first, ...rest] = path;
    await send("touchStart", first);
    for (const at of rest) await send("touchMove", at);
    await send("touchEnd");
    await session.detach();
  }
}

/** Three patches, each dragged from its middle: left parietal, vertex and occipital as the map shows them. */
async function threePlaces(page: Page, hand: Hand, between: (n: number) => Promise<void>): Promise<void> {
  const middles = [
    [140, 74],
    [330, 165],
    [450, 420],
  ] as const;
  for (const [n, [x, y]] of middles.entries()) {
    const map = page.locator(".head-map");
    await saved(page);
    const look = async () => {
      await map.evaluate((el) => scrollTo(0, el.getBoundingClientRect().top + scrollY - 150));
      return map.boundingBox();
    };
    // What the desk says of the last change may still move the map.
    let box = await look();
    await expect
      .poll(async () => {
        const before = box;
        box = await look();
        return JSON.stringify(before) === JSON.stringify(box);
      })
      .toBe(true);
    if (!box) throw new Error("no map");
    const { x: left, y: top, width } = box;
    const mm = width / 660;
    await hand.drag([0, 5, 10, 15].map((by): [number, number] => [left + (x + by) * mm, top + (y + 4) * mm]));
    await page.locator(`[data-pin="${n + 1}"]`).waitFor();
    await between(n);
  }
}

/** Amounts of the findings that stand first at the place, one touch each. */
async function amounts(page: Page, hand: Hand, count: number): Promise<void> {
  const rows = page.locator(".finding");
  await expect.poll(() => rows.count()).toBeGreaterThanOrEqual(count);
  for (let i = 0; i < count; i++)
    await hand.tap(
      rows
        .nth(i)
        .locator(".pad button")
        .nth((i % 3) + 1),
    );
}

interface Sheet {
  readonly sites: readonly { readonly patch: unknown; readonly findings: Readonly<Record<string, string>> }[];
  readonly signed: { readonly by: string };
}

function recorded(file: string): void {
  const sheet = parse(desk.read(file)) as Sheet;
  expect(sheet.sites).toHaveLength(3);
  expect(sheet.sites.every(({ patch }) => patch !== undefined)).toBe(true);
  expect(sheet.sites.flatMap(({ findings }) => Object.keys(findings))).toHaveLength(10);
  expect(sheet.signed.by).toBe("anneli-thorsby");
}

const FINDINGS = [4, 3, 3] as const;

async function signAndOpen(page: Page, hand: Hand): Promise<void> {
  await saved(page);
  await hand.tap(page.getByRole("button", { name: "Sign", exact: true }));
  const dialog = page.getByRole("dialog");
  await hand.tap(dialog.locator("label", { hasText: "Thorsby" }));
  const read = dialog.getByLabel(/I have read what stands open/u);
  if ((await read.count()) > 0) await hand.tap(read);
  await hand.tap(dialog.getByRole("button", { name: "Sign and make documents" }));
  const letter = page.getByRole("link", { name: "Letter PDF" });
  await letter.waitFor();
  const opened = page.context().waitForEvent("page");
  await hand.tap(letter);
  await opened;
}

it.runIf(LONG)("takes at most 120 keys and 25 touches with a keyboard beside the hand", async () => {
  const { page, context, complaints } = await openPage(browser, desk, {
    width: 1280,
    height: 900,
    hasTouch: true,
  });
  const hand = new Hand(page);
  await hand.tap(page.getByRole("button", { name: "New visit" }));
  const dialog = page.getByRole("dialog");
  await expect
    .poll(() => dialog.getByLabel("Given name").evaluate((el) => el === document.activeElement))
    .toBe(true);
  await hand.type("Eskil");
  await hand.press("Tab");
  await hand.type("Varrow");
  await hand.press("Tab");
  await hand.press("Tab");
  await hand.type("1994-05-17");
  await hand.tap(dialog.locator("label", { hasText: /^male$/u }));
  await hand.tap(dialog.locator("label", { hasText: "Thorsby" }));
  await hand.tap(dialog.getByRole("button", { name: "Begin" }));
  await page.getByRole("heading", { name: "Who and why" }).waitFor();
  const why = page.getByLabel("Why the patient came");
  await expect.poll(() => why.evaluate((el) => el === document.activeElement)).toBe(true);
  await hand.type("A bald patch above the left ear.");
  await threePlaces(page, hand, async (n) => amounts(page, hand, FINDINGS[n] ?? 0));
  await hand.press("Alt+7");
  await hand.type("alop are");
  await hand.press("Enter");
  await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute("type"))).toBe("radio");
  await hand.press("ArrowRight");
  await hand.press("ArrowRight");
  await hand.press("Alt+8");
  await hand.type("Please check thyroid function.");
  await hand.press("Alt+9");
  await hand.type("bran");
  await hand.press("Enter");
  await hand.tap(page.getByLabel("Next visit in"));
  await hand.type("8");
  const file = decodeURIComponent((await page.evaluate(() => location.hash)).replace("#visit=", ""));
  await signAndOpen(page, hand);
  console.log(`new patient to opened letter: ${hand.keys} keys, ${hand.touches} touches`);
  expect(hand.keys).toBeLessThanOrEqual(120);
  expect(hand.touches).toBeLessThanOrEqual(25);
  recorded(file);
  expect(parse(desk.read(file))).toMatchObject({
    patient: { name: { given: "Eskil", family: "Varrow" }, born: "1994-05-17", sex: "male" },
    visit: { reason: "A bald patch above the left ear.", status: "signed" },
    impression: [{ disorder: "alopecia areata", certainty: "probable" }],
    plan: [{ who: "general practitioner", action: "Please check thyroid function." }],
    send_to: [{ name: "Dr Ilse Brandt" }],
    follow_up: { weeks: 8 },
  });
  expect(complaints).toEqual([]);
  await context.close();
});

it.runIf(LONG)(
  "takes at most 90 touches on a tablet, where its own keyboard or dictation gives the words",
  async () => {
    const { page, context, complaints } = await openPage(browser, desk, {
      width: 820,
      height: 1180,
      hasTouch: true,
    });
    const hand = new Hand(page);
    await hand.tap(page.getByRole("button", { name: "New visit" }));
    const dialog = page.getByRole("dialog");
    await hand.dictate(dialog.getByLabel("Given name"), "Hedda");
    await hand.dictate(dialog.getByLabel("Family name"), "Quill");
    await hand.dictate(dialog.getByLabel("Born"), "1988-11-02");
    await hand.tap(dialog.locator("label", { hasText: /^female$/u }));
    await hand.tap(dialog.locator("label", { hasText: "Thorsby" }));
    await hand.tap(dialog.getByRole("button", { name: "Begin" }));
    await hand.dictate(page.getByLabel("Why the patient came"), "A patch behind.");
    await threePlaces(page, hand, async (n) => amounts(page, hand, FINDINGS[n] ?? 0));
    await hand.dictate(page.getByRole("combobox", { name: /Disorder/u }), "alopecia areata");
    await hand.tap(page.getByRole("option", { name: /alopecia areata/u }).first());
    await hand.tap(page.getByRole("group", { name: "How sure" }).locator("label", { hasText: "probable" }));
    await hand.dictate(page.getByLabel("What is to be done").first(), "Please check thyroid function.");
    await hand.dictate(page.getByRole("combobox", { name: /Written to before/u }), "brandt");
    await hand.tap(page.getByRole("option", { name: /Brandt/u }).first());
    const file = decodeURIComponent((await page.evaluate(() => location.hash)).replace("#visit=", ""));
    await signAndOpen(page, hand);
    console.log(`new patient to opened letter by touch alone: ${hand.touches} touches`);
    expect(hand.keys).toBe(0);
    expect(hand.touches).toBeLessThanOrEqual(90);
    recorded(file);
    expect(complaints).toEqual([]);
    await context.close();
  },
);

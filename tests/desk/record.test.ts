/** A visit recorded in a real browser: by hand, by keyboard alone, against another program, and fast enough to type into. */
import { existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { deskOnExamples, knowledge, launch, openPage, openVisit, saved, type TestDesk } from "./open-desk.js";

let browser: Browser;
let desk: TestDesk;
beforeAll(async () => {
  browser = await launch();
  desk = await deskOnExamples();
}, 30_000);
afterAll(async () => {
  await browser?.close();
  await desk?.shut();
});
beforeEach(() => {
  desk.faults.length = 0;
});

const SIGNED = `format: 1
visit:
  id: TS-2026-0700
  date: 2026-11-25
  status: signed
  seen_by: anneli-thorsby
  reason: A bald patch above the left ear.
patient:
  id: TS-50210
  name: { title: Mr, given: Eskil, family: Varrow }
  born: 1994-05-17
  sex: male
send_to:
  - role: general practitioner
    name: Dr Ilse Brandt
    address: [ Quayside Practice, 1 Fish Street, Tarn Sound, TS1 1AA ]
history:
  duration_weeks: 4
  onset: sudden
pull_test:
  - { site: left parietal, pulled: 60, came_out: 7 }
sites:
  - site: left parietal
    at: { x: X, y: Y }
    patch: { length_mm: 30, width_mm: 22, margin: sharp }
    findings:
      exclamation mark hairs: many
      yellow dots: few
    none_of: [ VESSELS ]
extent: { left: 8 }
impression:
  - { disorder: alopecia areata, certainty: probable }
plan:
  - { who: general practitioner, action: Please check thyroid function. }
follow_up: { weeks: 8 }
`;

/** Presses Tab until the focus is on something with this role and name. */
async function tabTo(page: Page, role: string, name: RegExp, most = 260): Promise<void> {
  for (let i = 0; i < most; i++) {
    await page.keyboard.press("Tab");
    const at = await page.evaluate(() => {
      const el = document.activeElement;
      const labels = el && "labels" in el ? [...((el as HTMLInputElement).labels ?? [])] : [];
      const name =
        el?.getAttribute("aria-label") ??
        (labels.map((l) => l.textContent).join(" ") || el?.textContent || "");
      const tag = el?.tagName.toLowerCase() ?? "";
      return {
        name: name.trim(),
        role:
          el?.getAttribute("role") ??
          (tag === "input" ? ((el as HTMLInputElement).type === "radio" ? "radio" : "textbox") : tag),
      };
    });
    if (at.role === role && name.test(at.name)) return;
  }
  throw new Error(`Tab never reached ${role} ${String(name)}`);
}

describe("a first visit", () => {
  it("goes from nothing to a signed letter, and the file says exactly what was recorded", async () => {
    const { page, context, complaints } = await openPage(browser, desk);
    const began = performance.now();
    await page.getByRole("button", { name: "New visit" }).click();
    await page.getByLabel("Title").fill("Mr");
    await page.getByLabel("Given name").fill("Eskil");
    await page.getByLabel("Family name").fill("Varrow");
    await page.getByLabel("Born").fill("1994-05-17");
    await page.getByLabel("Patient number").fill("TS-50210");
    await page.getByLabel("Sex as recorded").selectOption("male");
    await page.getByRole("button", { name: "Begin" }).click();
    await page.getByLabel("Why the patient came").fill("A bald patch above the left ear.");
    await page.getByLabel("Lasting").fill("4");
    await page.getByRole("group", { name: "Onset" }).getByRole("radio", { name: "sudden" }).check();

    // A drag of 15 mm from its middle makes a patch of 30 mm.
    const map = page.locator(".head-map");
    await map.scrollIntoViewIfNeeded();
    const box = await map.boundingBox();
    if (!box) throw new Error("no map");
    const mm = box.width / 660;
    const [x, y] = [box.x + 140 * mm, box.y + 74 * mm];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 15 * mm, y, { steps: 4 });
    await page.mouse.up();
    await page.getByLabel("Patch width").fill("22");
    await page.getByRole("group", { name: "Margin" }).getByRole("radio", { name: "sharp" }).check();

    const find = page.getByRole("combobox", { name: /Find a finding/u });
    await find.pressSequentially("excl");
    await find.press("Enter");
    await find.pressSequentially("3");
    await find.pressSequentially("yel dot 2");
    await find.press("Enter");
    await find.pressSequentially("exclamation point hairs 4");
    await find.press("Enter");
    await page.getByRole("tab", { name: "Vessel" }).click();
    await page.getByRole("button", { name: "Nothing else seen in this group" }).click();

    const pull = page.getByRole("group", { name: "new pull test 1" });
    await pull.getByLabel("Where").selectOption("left parietal");
    await page.getByRole("group", { name: "pull test 1", exact: true }).getByLabel("Pulled").fill("60");
    await page.getByRole("group", { name: "pull test 1", exact: true }).getByLabel("Came out").fill("7");
    await page.locator("#pull").getByLabel("left", { exact: true }).fill("8");

    const disorder = page.getByRole("combobox", { name: /Disorder/u });
    await disorder.pressSequentially("alop are");
    await disorder.press("Enter");
    await page.getByRole("group", { name: "How sure" }).getByRole("radio", { name: "probable" }).check();
    await page.getByLabel("What is to be done").first().fill("Please check thyroid function.");
    await page.getByLabel("Next visit in").fill("8");
    await page.getByRole("button", { name: /Dr Ilse Brandt/u }).click();

    await page.getByRole("button", { name: "Sign", exact: true }).click();
    await page.getByRole("dialog").getByRole("button", { name: "Sign" }).click();
    await page.locator(".bar .state.signed").waitFor();
    await page.getByRole("button", { name: "Make documents" }).click();
    const link = page.getByRole("link", { name: "Letter PDF" });
    await link.waitFor({ timeout: 15_000 });
    expect(performance.now() - began).toBeLessThan(180_000);

    const file = "TS-50210/2026-11-25.yaml";
    const text = desk.read(file);
    const vessels = Object.values(knowledge().findings)
      .filter(({ group }) => group === "vessel")
      .map(({ term }) => term);
    const listed = /none_of: \[ (.*) \]/u.exec(text)?.[1]?.split(", ") ?? [];
    expect(listed.toSorted()).toEqual(vessels.toSorted());
    const [, across = 0, down = 0] = /at: \{ x: (0\.\d+), y: (0\.\d+) \}/u.exec(text) ?? [];
    expect(Number(across)).toBeCloseTo(0.36, 1);
    expect(Number(down)).toBeCloseTo(0.28, 1);
    expect(text).toBe(
      SIGNED.replace("VESSELS", listed.join(", ")).replace("x: X, y: Y", `x: ${across}, y: ${down}`),
    );
    const pdf = await context.request.get(new URL((await link.getAttribute("href")) ?? "", desk.url).href);
    expect(pdf.headers()["content-type"]).toBe("application/pdf");
    expect((await pdf.body()).subarray(0, 5).toString()).toBe("%PDF-");
    expect(readdirSync(join(desk.folder, "TS-50210", "letters")).sort()).toEqual([
      "TS-2026-0700-handout.pdf",
      "TS-2026-0700-referral-letter.pdf",
    ]);
    const sheet = page.frameLocator("iframe");
    await sheet.getByText("Alopecia areata").first().waitFor();
    expect(await sheet.getByText("DRAFT").count()).toBe(0);
    await page.getByRole("link", { name: "Visits" }).click();
    await page.locator(".cards li", { hasText: "Eskil Varrow" }).getByText("Letters made").waitFor();
    expect(complaints).toEqual([]);
    expect(desk.faults).toEqual([]);
    await context.close();
  }, 60_000);
});

describe("the keyboard alone", () => {
  it("records a place, its findings, an impression and a signature", async () => {
    const { page, context, complaints } = await openPage(browser, desk);
    await tabTo(page, "button", /^New visit$/u);
    await page.keyboard.press("Enter");
    await tabTo(page, "textbox", /Family name/u);
    await page.keyboard.type("Osk");
    await tabTo(page, "textbox", /Born/u);
    await page.keyboard.type("1990-02-03");
    await tabTo(page, "textbox", /Patient number/u);
    await page.keyboard.type("TS-50211");
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "Who and why" }).waitFor();
    await tabTo(page, "textarea", /Why the patient came/u);
    await page.keyboard.type("Thinning at the crown.");
    await tabTo(page, "select", /Add a place/u);
    await page.keyboard.type("ver");
    await page.keyboard.press("Enter");
    await page.locator("[data-pin='1']").waitFor();

    // The pin moves with arrows and grows with Shift.
    await page.keyboard.press("Shift+Tab");
    const pin = page.locator("[data-pin='1']");
    await expect.poll(() => pin.evaluate((el) => el === document.activeElement)).toBe(true);
    await page.keyboard.press("ArrowRight");
    await page.keyboard.press("Shift+ArrowRight");
    await page.keyboard.press("Shift+ArrowRight");

    await page.keyboard.press("Control+k");
    await page.keyboard.type("diam 4");
    await page.keyboard.press("Enter");
    await tabTo(page, "tab", /Hair shaft/iu, 5);
    await page.keyboard.press("ArrowRight");
    await tabTo(page, "button", /black dots/iu, 5);
    await page.keyboard.press("0");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("2");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("3");
    await page.keyboard.press("x");
    await page.keyboard.press("ArrowDown");
    await page.keyboard.press("c");
    await expect
      .poll(() => page.evaluate(() => document.activeElement?.closest(".counted") !== null))
      .toBe(true);
    await page.keyboard.type("14");
    await page.keyboard.press("Tab");
    await page.keyboard.type("2");
    await tabTo(page, "combobox", /Disorder/u);
    await page.keyboard.type("androgenetic");
    await page.keyboard.press("Enter");
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute("type"))).toBe("radio");
    await page.keyboard.press("ArrowRight");
    await tabTo(page, "button", /Dr Ilse Brandt/u);
    await page.keyboard.press("Enter");
    await saved(page);
    await page.evaluate(() => document.querySelector<HTMLElement>(".back")?.focus());
    await tabTo(page, "button", /^Sign$/u);
    await page.keyboard.press("Enter");
    await page.getByRole("dialog").waitFor();
    await tabTo(page, "button", /^Sign$/u, 4);
    await page.keyboard.press("Enter");
    await page.locator(".bar .state.signed").waitFor();
    const text = desk.read("TS-50211/2026-11-25.yaml");
    expect(text).toContain("reason: Thinning at the crown.");
    expect(text).toMatch(
      /site: vertex\n {4}at: \{ x: 0\.\d+, y: 0\.\d+ \}\n {4}patch: \{ length_mm: 10, width_mm: 8 \}/u,
    );
    expect(text).toMatch(
      /findings:\n {6}hair diameter variability: many\n {6}black dots: none\n {6}empty follicular openings: few\n {6}follicular plugs: \{ count: 14, fields: 2 \}\n/u,
    );
    expect(text).not.toContain("microhaemorrhages");
    expect(text).toContain("{ disorder: androgenetic alopecia, certainty: definite }");
    expect(complaints).toEqual([]);
    await context.close();
  }, 60_000);

  it("undoes and redoes with the usual keys", async () => {
    const { page, context } = await openPage(browser, desk);
    const file = "TS-41388/2026-09-22.yaml";
    const first = desk.read(file);
    await openVisit(page, file);
    const notes = page.locator("#told").getByLabel("Anything else");
    await notes.fill("One");
    await saved(page);
    await expect.poll(() => desk.read(file)).not.toBe(first);
    await notes.press("Control+z");
    await expect.poll(() => desk.read(file)).toBe(first);
    await page.keyboard.press("Control+Shift+z");
    await expect.poll(() => desk.read(file)).toContain("One");
    await page.keyboard.press("Control+z");
    await expect.poll(() => desk.read(file)).toBe(first);
    await context.close();
  }, 30_000);
});

describe("a finger", () => {
  it("places a site with a tap on the head and opens the amounts with another", async () => {
    const { page, context, complaints } = await openPage(browser, desk, {
      width: 1024,
      height: 768,
      hasTouch: true,
    });
    const file = "TS-41388/2026-09-22.yaml";
    const first = desk.read(file);
    await openVisit(page, file);
    const map = page.locator(".head-map");
    await map.scrollIntoViewIfNeeded();
    const box = await map.boundingBox();
    if (!box) throw new Error("no map");
    const mm = box.width / 660;
    // The crown from above lies in the middle of the upper row.
    await page.touchscreen.tap(box.x + 330 * mm, box.y + 165 * mm);
    await page.getByRole("tab", { name: "3 vertex" }).waitFor();
    await page.locator('[data-finding="broken-hairs"]').tap();
    await page.getByRole("button", { name: "4 many" }).tap();
    await expect
      .poll(() => desk.read(file))
      .toMatch(/site: vertex\n {4}at: \{ x: 0\.\d+, y: 0\.\d+ \}\n {4}findings:\n {6}broken hairs: many/u);
    await page.getByRole("button", { name: "Undo" }).tap();
    await expect.poll(() => desk.read(file)).not.toContain("broken hairs: many");
    await page.getByRole("button", { name: "Undo" }).tap();
    await expect.poll(() => desk.read(file)).toBe(first);
    expect(complaints).toEqual([]);
    await context.close();
  }, 30_000);
});

describe("a file that cannot be written", () => {
  it("keeps what was typed on the page until it can", async () => {
    const { page, context } = await openPage(browser, desk);
    const file = "TS-41388/2026-09-22.yaml";
    const first = desk.read(file);
    await openVisit(page, file);
    await page.route("**/api/edit", (route) =>
      route.fulfill({ status: 500, json: { refused: "The desk itself failed (ENOSPC)." } }),
    );
    const notes = page.locator("#told").getByLabel("Anything else");
    await notes.fill("Kept.");
    await page.getByText("Not saved: the desk cannot write the file").waitFor();
    expect(await notes.inputValue()).toBe("Kept.");
    // Nor does the page leave the visit while something waits.
    await page.getByRole("link", { name: "Visits" }).click();
    await page.waitForTimeout(2500);
    expect(await notes.inputValue()).toBe("Kept.");
    await page.unroute("**/api/edit");
    await expect.poll(() => desk.read(file), { timeout: 5000 }).toContain("notes: Kept.");
    await page.getByRole("button", { name: "Undo" }).click();
    await expect.poll(() => desk.read(file)).toBe(first);
    await context.close();
  }, 30_000);
});

describe("a problem", () => {
  it("leads to its field and goes away when it is mended", async () => {
    const { page, context } = await openPage(browser, desk);
    await openVisit(page, "TS-41388/2026-09-22.yaml");
    const born = page.getByLabel("Born");
    const before = await born.inputValue();
    await born.fill("3/4/1997");
    await page.locator("#who .said .error, #who .said p.error").first().waitFor();
    expect(await born.getAttribute("aria-invalid")).toBe("true");
    await page.getByRole("tab", { name: /Problems/u }).click();
    await page.getByRole("button", { name: "Go to patient, born" }).first().click();
    await expect.poll(() => born.evaluate((el) => el === document.activeElement)).toBe(true);
    await born.fill(before);
    await expect.poll(() => page.locator("#who .said .error").count()).toBe(0);
    await context.close();
  }, 30_000);
});

describe("a file that changes underneath", () => {
  it("is not written over: the clinician chooses, and every text stays within reach", async () => {
    const { page, context, complaints } = await openPage(browser, desk);
    const file = "TS-41388/2026-09-22.yaml";
    await openVisit(page, file);
    const path = join(desk.folder, file);
    const theirs = readFileSync(path, "utf8")
      .replace("format: 1", "# from the ward\nformat: 1")
      .replace(/reason: .*/u, "reason: Theirs.");
    writeFileSync(path, theirs);
    await page.locator("#told").getByLabel("Anything else").fill("Mine.");
    const dialog = page.getByRole("dialog", { name: "The file changed underneath" });
    await dialog.waitFor();
    expect(await dialog.locator("code").allTextContents()).toEqual(["visit.reason"]);
    expect(readFileSync(path, "utf8")).toBe(theirs);
    await dialog.getByRole("button", { name: "Take the file and put my change into it" }).click();
    await expect.poll(() => readFileSync(path, "utf8")).toContain("Mine.");
    const both = readFileSync(path, "utf8");
    expect(both).toContain("# from the ward");
    expect(both).toContain("reason: Theirs.");
    expect(await page.getByLabel("Why the patient came").inputValue()).toBe("Theirs.");

    writeFileSync(path, theirs);
    await page.locator("#told").getByLabel("Anything else").fill("Mine again.");
    await dialog.getByRole("button", { name: "Keep my text" }).click();
    await expect.poll(() => readFileSync(path, "utf8")).toContain("Mine again.");
    await page.getByRole("button", { name: "Undo" }).click();
    await expect.poll(() => readFileSync(path, "utf8")).toBe(theirs);
    expect(complaints).toEqual([]);
    await context.close();
  }, 30_000);

  it("is shown anew while nothing is being typed", async () => {
    const { page, context } = await openPage(browser, desk);
    const file = "TS-41388/2026-09-22.yaml";
    await openVisit(page, file);
    const path = join(desk.folder, file);
    writeFileSync(path, readFileSync(path, "utf8").replace(/reason: .*/u, "reason: Changed in an editor."));
    await page.getByText("Another program changed this file").waitFor();
    expect(await page.getByLabel("Why the patient came").inputValue()).toBe("Changed in an editor.");
    await context.close();
  }, 30_000);
});

describe("a keystroke", () => {
  it("stands on the sheet within a tenth of a second", async () => {
    const { page, context } = await openPage(browser, desk);
    await openVisit(page, "TS-41388/2026-09-22.yaml");
    await page.frameLocator("iframe").locator("main").waitFor();
    await page.evaluate(() => {
      const sheet = document.querySelector("iframe")?.contentDocument;
      const times: number[] = [];
      let typed = 0;
      addEventListener(
        "input",
        () => {
          typed = performance.now();
        },
        true,
      );
      new MutationObserver(() => {
        if (typed > 0) times.push(performance.now() - typed);
        typed = 0;
      }).observe(sheet?.body ?? document.body, { subtree: true, childList: true, characterData: true });
      Object.assign(window, { times });
    });
    const reason = page.getByLabel("Why the patient came");
    await reason.fill("Patches");
    for (const letter of " of hair loss for months") {
      await page.waitForTimeout(170);
      await reason.press(letter === " " ? "Space" : letter);
    }
    await page.waitForTimeout(400);
    const times = await page.evaluate(() => (window as unknown as { times: number[] }).times);
    expect(times.length).toBeGreaterThan(15);
    const sorted = times.toSorted((a, b) => a - b);
    const at = (share: number) => sorted[Math.floor(sorted.length * share)] ?? Number.POSITIVE_INFINITY;
    console.log(`keystroke to sheet: quarter ${at(0.25).toFixed(0)} ms, median ${at(0.5).toFixed(0)} ms`);
    // Other tests run on the same processors; the quarter least disturbed tells what the desk itself needs.
    expect(at(0.25)).toBeLessThan(100);
    await page.frameLocator("iframe").getByText("Patches of hair loss for months").first().waitFor();
    await context.close();
  }, 30_000);
});

it("keeps no draft or temporary file in the folder", () => {
  const left = readdirSync(desk.folder, { recursive: true, encoding: "utf8" }).filter((name) =>
    /\.part$|~$|\.tmp$/u.test(name),
  );
  expect(left).toEqual([]);
  expect(existsSync(join(desk.folder, "letters"))).toBe(false);
});

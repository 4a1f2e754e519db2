/** A photo at the desk: added, scaled, marked by hand, by keys and with the helping eye, and kept like a visit. */

import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import jpeg from "jpeg-js";
import type { Page } from "playwright-core";
import { beforeAll, describe, expect, it } from "vitest";
import { sha256 } from "../../src/base/sha256.js";
import { count } from "../../src/picture/count.js";
import { distance } from "../../src/picture/geometry.js";
import type { Marks, Point } from "../../src/picture/marks.js";
import { readMarks } from "../../src/picture/read-marks.js";
import { markWords } from "../../src/visit/read.js";
import { draw, PLAIN, SIZE } from "../picture/eye/draw-hairs.js";
import { some } from "../runs.js";
import { violations } from "./axe-in-page.js";
import { browser, desk, deskBefore } from "./open-before.js";
import { knowledge, openPage, openVisit, saved } from "./open-desk.js";

deskBefore();

const VISIT = "TS-40417/2026-03-12.yaml";

/** No longer signed, so that it may be changed. */
beforeAll(() => {
  const text = desk
    .read(VISIT)
    .replace(/^ {2}status: signed$/mu, "  status: draft")
    .replace(/^signed:.*\n/mu, "");
  writeFileSync(join(desk.folder, VISIT), text);
});

const drawn = draw({ ...PLAIN, fan: 0.35 }, "desk");
const picture = jpeg.encode({ ...SIZE, data: Buffer.from(drawn.picture.data) }, 92).data;

async function openedPhoto(page: Page, bytes: Uint8Array): Promise<string> {
  await openVisit(page, VISIT);
  await page.locator(".counts > summary").first().click({ force: true });
  const details = page.locator(".counts").first();
  if ((await details.getAttribute("open")) === null) await page.locator(".counts > summary").first().click();
  await page
    .getByLabel("Photo file")
    .first()
    .setInputFiles({ name: "any name.jpg", mimeType: "image/jpeg", buffer: Buffer.from(bytes) });
  await saved(page);
  const button = page.getByRole("button", { name: /^Mark hairs and findings on/u }).last();
  await button.waitFor();
  const name = (await button.textContent())?.replace("Mark hairs and findings on ", "") ?? "";
  await button.click();
  await page.locator("dialog.marker .stage canvas").waitFor();
  // Where it will stay, so that a touch meets what it was aimed at.
  const canvas = page.locator("dialog.marker .stage canvas");
  let last = "";
  await expect
    .poll(async () => {
      const before = last;
      last = JSON.stringify(await canvas.boundingBox());
      return last === before;
    })
    .toBe(true);
  return join(dirname(VISIT), "photos", name);
}

const marksOf = (photo: string): Marks | undefined => {
  const file = join(desk.folder, photo.replace(/\.jpg$/u, ".marks.yaml"));
  return existsSync(file)
    ? readMarks(readFileSync(file, "utf8"), file, markWords(knowledge())).value
    : undefined;
};

/** Where a point of the picture stands on the screen while all of it is shown. */
async function screen(page: Page): Promise<(at: Point) => { x: number; y: number }> {
  const box = await page.locator("dialog.marker canvas").boundingBox();
  if (!box) throw new Error("no picture");
  const zoom = box.width / SIZE.width;
  return ([x, y]) => ({ x: box.x + x * zoom, y: box.y + y * zoom });
}

const isSaved = (page: Page) => page.locator('[data-marks="saved"]').waitFor();
const tool = (page: Page, name: string) => page.getByRole("button", { name, exact: true }).click();

describe("a photo at the desk", () => {
  it("is kept whole, and marked with the helping eye in under two minutes to every single hair", async () => {
    const { page, complaints } = await openPage(browser, desk, { width: 1440, height: 1000 });
    const photo = await openedPhoto(page, picture);
    expect(sha256(readFileSync(join(desk.folder, photo)))).toBe(sha256(picture));
    const at = await screen(page);
    const began = performance.now();
    let touches = 0;
    const tap = async (point: Point) => {
      touches++;
      const { x, y } = at(point);
      await page.mouse.click(x, y);
    };
    await tool(page, "Scale line");
    await page.getByLabel("Length, mm").fill("10");
    await tap([200, 600]);
    await tap([1200, 600]);
    await tool(page, "Hair");
    await page.getByRole("button", { name: "Suggest hairs" }).click();
    await page.getByText(/suggestions in \d/u).waitFor();
    const looked = Number(
      /in ([\d.]+) s/u.exec((await page.getByText(/suggestions in \d/u).textContent()) ?? "")?.[1],
    );
    await isSaved(page);
    expect(marksOf(photo)?.hairs, "nothing counts before it is accepted").toEqual([]);
    await page.getByRole("button", { name: /^Accept all/u }).click();
    touches += 5;
    await isSaved(page);
    const roots = drawn.hairs.map(({ path }) => path[0] ?? ([0, 0] as Point));
    const NEAR = 22;
    // As a person does who looks at the picture: takes off what is no root, then marks what is missing.
    await tool(page, "Take off");
    for (const hair of spare(marksOf(photo), roots, NEAR)) await tap(hair);
    await isSaved(page);
    await tool(page, "Hair");
    await page.getByRole("button", { name: "Suggest hairs" }).isEnabled();
    for (const root of missing(marksOf(photo), roots, NEAR)) await tap(root);
    await page.getByLabel("All hairs in the area are marked").check();
    await isSaved(page);
    const machine = (performance.now() - began) / 1000;
    const marks = marksOf(photo);
    expect(marks && count(marks).hairs).toBe(80);
    // A second for each touch, as a practised hand takes it, leaves the machine half a minute of the two.
    console.log(`80 hairs: ${touches} touches, eye ${looked} s, machine ${machine.toFixed(1)} s`);
    expect(touches).toBeLessThan(90);
    await expect.poll(() => page.locator(".live").textContent()).toContain("Hairs in the area80");
    await page.getByRole("button", { name: "Done" }).click();
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("is marked by keys alone, and every step can be undone", async () => {
    const { page, complaints } = await openPage(browser, desk, { width: 1280, height: 900 });
    const photo = await openedPhoto(page, picture);
    const stage = page.locator(".stage");
    await stage.focus();
    for (const key of ["ArrowRight", "ArrowRight", "Enter", "ArrowDown", "Shift+Enter"])
      await page.keyboard.press(key);
    await isSaved(page);
    const [first, second] = marksOf(photo)?.hairs ?? [];
    expect(first?.unit).toBe(second?.unit);
    expect(distance(first?.at ?? [0, 0], second?.at ?? [0, 0])).toBeGreaterThan(5);
    await page.keyboard.press("Control+z");
    await isSaved(page);
    expect(marksOf(photo)?.hairs).toEqual([first]);
    await page.keyboard.press("Control+Shift+z");
    await isSaved(page);
    expect(marksOf(photo)?.hairs).toHaveLength(2);
    await page.keyboard.press("Delete");
    await isSaved(page);
    expect(marksOf(photo)?.hairs).toEqual([first]);
    for (const target of await page.locator("dialog.marker button").all()) {
      const box = await target.boundingBox();
      expect(
        Math.min(box?.width ?? 0, box?.height ?? 0),
        (await target.textContent()) ?? "",
      ).toBeGreaterThanOrEqual(44);
    }
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it("is zoomed by two fingers and marked by one, on a touch screen", async () => {
    const { page, context, complaints } = await openPage(browser, desk, {
      width: 1024,
      height: 900,
      hasTouch: true,
    });
    const photo = await openedPhoto(page, picture);
    const touch = await context.newCDPSession(page);
    const send = (type: "touchStart" | "touchMove" | "touchEnd", ...points: { x: number; y: number }[]) =>
      touch.send("Input.dispatchTouchEvent", { type, touchPoints: points.map((at, id) => ({ ...at, id })) });
    const width = async () => (await page.locator("dialog.marker canvas").boundingBox())?.width ?? 0;
    const before = await width();
    const at = await screen(page);
    const middle = at([800, 600]);
    await send("touchStart", { x: middle.x - 40, y: middle.y }, { x: middle.x + 40, y: middle.y });
    for (let step = 1; step <= 8; step++)
      await send(
        "touchMove",
        { x: middle.x - 40 - 10 * step, y: middle.y },
        { x: middle.x + 40 + 10 * step, y: middle.y },
      );
    await send("touchEnd");
    expect((await width()) / before).toBeCloseTo(3, 1);
    await isSaved(page);
    expect(marksOf(photo), "two fingers mark nothing").toBeUndefined();
    // What lay between the fingers lies there still.
    await page.touchscreen.tap(middle.x, middle.y);
    await expect.poll(() => marksOf(photo)?.hairs.length).toBe(1);
    expect(distance(marksOf(photo)?.hairs[0]?.at ?? [0, 0], [800, 600])).toBeLessThan(6);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it.each(some(["light", "dark"] as const, 1 / 2))(
    "has names and contrast that a machine can check, in %s",
    async (colorScheme) => {
      const { page } = await openPage(browser, desk, { width: 1280, height: 900, colorScheme });
      await openedPhoto(page, picture);
      await page.getByRole("button", { name: "Suggest hairs" }).click();
      await page.getByText(/suggestions in \d/u).waitFor();
      await tool(page, "Dot");
      expect(await violations(page, "dialog.marker")).toEqual([]);
      await page.context().close();
    },
  );

  it.each(some([true, false], 1 / 2))("has its marks carried, a finger at work: %s", async (hasTouch) => {
    const { page, context, complaints } = await openPage(browser, desk, {
      width: 820,
      height: 1180,
      hasTouch,
    });
    const photo = await openedPhoto(page, picture);
    const touch = await context.newCDPSession(page);
    const tap = async (point: Point) => {
      const { x, y } = (await screen(page))(point);
      if (hasTouch) await page.touchscreen.tap(x, y);
      else await page.mouse.click(x, y);
    };
    const drag = async (from: Point, to: Point) => {
      const at = await screen(page);
      const ways = [0, 0.25, 0.5, 0.75, 1].map((part) =>
        at([from[0] + part * (to[0] - from[0]), from[1] + part * (to[1] - from[1])]),
      );
      for (const [i, point] of ways.entries()) {
        if (!hasTouch) {
          await page.mouse.move(point.x, point.y);
          if (i === 0) await page.mouse.down();
        } else
          await touch.send("Input.dispatchTouchEvent", {
            type: i === 0 ? "touchStart" : "touchMove",
            touchPoints: [point],
          });
      }
      if (hasTouch) await touch.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
      else await page.mouse.up();
    };
    const hairs = () => (marksOf(photo)?.hairs ?? []).map(({ at }) => at.map((n) => Math.round(n / 20)));
    const stage = async () => (await page.locator("dialog.marker .stage").boundingBox())?.y;
    const before = await stage();
    await tap([400, 400]);
    await tap([1000, 600]);
    await tool(page, "Move");
    expect(await stage(), "the picture stays where it is, whatever the tool").toBe(before);
    await drag([400, 400], [600, 800]);
    await expect.poll(hairs).toEqual([
      [30, 40],
      [50, 30],
    ]);
    // Beside every mark a drag moves the picture, and two taps still carry a mark.
    const shown = (await screen(page))([0, 0]);
    await drag([800, 200], [900, 300]);
    expect((await screen(page))([0, 0]).x).toBeGreaterThan(shown.x + 20);
    await tap([1000, 600]);
    await tap([1200, 600]);
    await expect.poll(hairs).toEqual([
      [30, 40],
      [60, 30],
    ]);
    await page.locator("dialog.marker").getByRole("button", { name: "Undo" }).click();
    await page.getByText("Undone", { exact: true }).waitFor();
    await page.locator("dialog.marker").getByRole("button", { name: "Undo" }).click();
    await expect.poll(hairs).toEqual([
      [20, 20],
      [50, 30],
    ]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it.each(some([false, true], 1 / 2))("has its area outlined, a finger at work: %s", async (hasTouch) => {
    const { page, context, complaints } = await openPage(browser, desk, {
      width: 820,
      height: 1180,
      hasTouch,
    });
    const photo = await openedPhoto(page, picture);
    const at = await screen(page);
    const tap = async (point: Point) => {
      const { x, y } = at(point);
      if (hasTouch) await page.touchscreen.tap(x, y);
      else await page.mouse.click(x, y);
    };
    // An L: a rectangle round it would take in the hair in its notch.
    const corners: Point[] = [
      [200, 200],
      [700, 200],
      [700, 500],
      [1200, 500],
      [1200, 1000],
      [200, 1000],
    ];
    const close = page.getByRole("button", { name: "Close the outline" });
    await tool(page, "Outline");
    for (const corner of corners.slice(0, 2)) await tap(corner);
    expect(await close.count(), "two points are no area").toBe(0);
    for (const corner of corners.slice(2)) await tap(corner);
    expect(await page.locator(".layer .pending").count()).toBe(6);
    await close.click();
    await isSaved(page);
    const area = marksOf(photo)?.area;
    expect(area?.kind).toBe("polygon");
    for (const [i, corner] of corners.entries())
      expect(distance(area?.kind === "polygon" ? (area.corners[i] ?? [0, 0]) : [0, 0], corner)).toBeLessThan(
        3,
      );
    await tool(page, "Hair");
    for (const hair of [
      [300, 300],
      [1000, 800],
      [1000, 300],
      [1400, 600],
    ] as Point[])
      await tap(hair);
    await isSaved(page);
    const marks = marksOf(photo);
    expect(marks?.hairs).toHaveLength(4);
    await expect.poll(() => page.locator(".live").textContent()).toMatch(/Hairs in the area2(?!\d)/u);
    // What was begun is dropped by Escape, and the area is taken back step by step.
    await tool(page, "Outline");
    await tap([300, 300]);
    await page.keyboard.press("Escape");
    await expect.poll(() => page.locator(".layer .pending").count()).toBe(0);
    for (let step = 0; step < 5; step++)
      await page.locator("dialog.marker").getByRole("button", { name: "Undo" }).click();
    await isSaved(page);
    await expect.poll(() => marksOf(photo)?.area).toBeUndefined();
    expect(complaints).toEqual([]);
    await context.close();
  });

  it("shows how far a second person's marks agree, and where they differ", async () => {
    const { page, context, complaints } = await openPage(browser, desk, { width: 1280, height: 900 });
    const photo = await openedPhoto(page, picture);
    const at = await screen(page);
    const hairs: Point[] = [
      [300, 300],
      [600, 300],
      [900, 300],
      [1200, 300],
    ];
    for (const hair of hairs) await page.mouse.click(at(hair).x, at(hair).y);
    await isSaved(page);
    const file = join(desk.folder, photo.replace(/\.jpg$/u, ".marks.yaml"));
    const own = readFileSync(file, "utf8");
    const compare = (text: string) =>
      page
        .locator("dialog.marker")
        .getByLabel("Compare with a marks file")
        .setInputFiles({ name: "second.marks.yaml", mimeType: "text/yaml", buffer: Buffer.from(text) });
    // The second person has the first hair elsewhere, and calls another one thin.
    const lines = own.split("\n");
    const marked = lines.flatMap((line, i) => (/^ {2}- \{ at: /u.test(line) ? [i] : []));
    const [first = 0, second = 0] = marked;
    lines[first] = (lines[first] ?? "").replace(/at: \[.*?\]/u, "at: [700, 900]");
    lines[second] = (lines[second] ?? "").replace("class: terminal", "class: thin");
    await compare(lines.join("\n"));
    const said = page.locator("dialog.marker");
    await said.getByText("3 hairs marked by both, 1 only here, 1 only in the other file.").waitFor();
    // Twice the three shared, of all eight.
    await said.getByText(/^Agreement on hairs 75 % \(95 %: \d+–\d+\)\.$/u).waitFor();
    await said.getByText(/^Class of the shared hairs: kappa 0\.00/u).waitFor();
    const middleOf = async (selector: string) => {
      const box = await page.locator(selector).boundingBox();
      return box ? [box.x + box.width / 2, box.y + box.height / 2] : [];
    };
    const near = ({ x, y }: { x: number; y: number }) => [expect.closeTo(x, -1), expect.closeTo(y, -1)];
    expect(await middleOf(".layer .differs.here")).toEqual(near(at(hairs[0] ?? [0, 0])));
    expect(await middleOf(".layer .differs.there")).toEqual(near(at([700, 900])));
    expect(await violations(page, "dialog.marker")).toEqual([]);
    await page.getByRole("button", { name: "Hide the differences" }).click();
    expect(await page.locator(".layer .differs").count()).toBe(0);
    await compare(own.replace(/sha256: "[0-9a-f]{4}/u, 'sha256: "0000'));
    await said.getByText("The other marks cannot be compared.").waitFor();
    expect(readFileSync(file, "utf8"), "comparing writes nothing").toBe(own);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it("is never marked over another program's marks unasked", async () => {
    const { page } = await openPage(browser, desk, { width: 1280, height: 900 });
    const photo = await openedPhoto(page, picture);
    const at = await screen(page);
    const mark = async (point: Point) => page.mouse.click(at(point).x, at(point).y);
    await mark([400, 400]);
    await isSaved(page);
    const file = join(desk.folder, photo.replace(/\.jpg$/u, ".marks.yaml"));
    const theirs = readFileSync(file, "utf8").replace(/at: \[.*?\]/u, "at: [1, 2]");
    writeFileSync(file, theirs);
    await mark([800, 800]);
    await page.getByText("Another program changed the marks").waitFor();
    expect(readFileSync(file, "utf8")).toBe(theirs);
    await page.getByRole("button", { name: "Take theirs" }).click();
    await isSaved(page);
    await mark([600, 900]);
    await isSaved(page);
    expect(marksOf(photo)?.hairs.map((hair) => Math.round(hair.at[0] / 10))).toEqual([0, 60]);
    await page.context().close();
  });
});

function spare(marks: Marks | undefined, roots: readonly Point[], near: number): Point[] {
  const taken = paired(marks, roots, near);
  return (marks?.hairs ?? []).flatMap(({ at }, i) => (taken.has(i) ? [] : [at]));
}

function missing(marks: Marks | undefined, roots: readonly Point[], near: number): Point[] {
  const known = new Set(paired(marks, roots, near).values());
  return roots.filter((_, i) => !known.has(i));
}

/** Marks by the root each stands on, each root once, the nearest first. */
function paired(marks: Marks | undefined, roots: readonly Point[], near: number): Map<number, number> {
  const all = (marks?.hairs ?? []).flatMap(({ at }, i) =>
    roots.map((root, j) => ({ i, j, far: distance(at, root) })).filter(({ far }) => far <= near),
  );
  all.sort((a, b) => a.far - b.far);
  const pairs = new Map<number, number>();
  for (const { i, j } of all) if (!pairs.has(i) && ![...pairs.values()].includes(j)) pairs.set(i, j);
  return pairs;
}

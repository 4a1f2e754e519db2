/** The idle lock: what names a patient is covered after the chosen time, what was typed stays, and a chosen code opens it. */
import { expect, it } from "vitest";
import { browser, desk, deskBefore } from "./open-before.js";
import { openPage, openVisit, saved } from "./open-desk.js";

deskBefore();

it("covers the visit when no hand was on it for the chosen time, and opens by the code with every word in place", async () => {
  const { page, context, complaints } = await openPage(browser, desk);
  await openVisit(page, "TS-41388/2026-09-22.yaml");
  await page.clock.install();
  await page.getByRole("button", { name: "Lock", exact: true }).click();
  await page.getByLabel("Lock by itself").selectOption("2");
  await page.getByLabel(/Code that opens it/u).fill("4711");
  await page.getByRole("button", { name: "Keep", exact: true }).click();
  const notes = page.locator("#told").getByLabel("Anything else");
  await notes.fill("Half a sentence");
  await page.clock.runFor(110_000);
  expect(await page.getByRole("heading", { name: "The desk is locked" }).count()).toBe(0);
  await page.clock.runFor(15_000);
  await page.getByRole("heading", { name: "The desk is locked" }).waitFor();
  expect(await page.title()).toBe("Locked - Whorl desk");
  expect(await page.getByText("Thorne-Idowu").first().isVisible()).toBe(false);
  await page.getByLabel("Code").fill("1234");
  await page.getByRole("button", { name: "Go on" }).click();
  await page.getByText("That is not the code.").waitFor();
  await page.getByLabel("Code").fill("4711");
  await page.getByRole("button", { name: "Go on" }).click();
  expect(await notes.inputValue()).toBe("Half a sentence");
  expect(await page.title()).toContain("Thorne-Idowu");

  // A dialog that stood open is not seen either, does not keep the cover from being answered, and stands there again.
  await page.getByRole("button", { name: "Sign", exact: true }).click();
  await page.getByRole("heading", { name: "Sign this visit?" }).waitFor();
  await page.clock.runFor(125_000);
  await page.getByRole("heading", { name: "The desk is locked" }).waitFor();
  expect(await page.getByText("Thorne-Idowu").locator("visible=true").count()).toBe(0);
  await page.keyboard.press("Escape");
  await page.keyboard.press("Escape");
  await page.getByLabel("Code").fill("4711");
  await page.getByRole("button", { name: "Go on" }).click();
  await page.getByRole("dialog", { name: "Sign this visit?" }).getByText("Thorne-Idowu").waitFor();
  await page.keyboard.press("Escape");
  await page.clock.resume();
  await saved(page);
  expect(complaints).toEqual([]);
  await context.close();
});

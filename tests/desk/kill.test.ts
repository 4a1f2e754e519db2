/** The whole command, killed in the middle of typing: what stood on the page a moment before stands in the file. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";
import { type DeskCommand, deskCommand, freePort } from "./desk-command.js";
import { browser, browserBefore } from "./open-before.js";
import { copyOfExamples, openPage, openVisit, saved } from "./open-desk.js";

const copy = copyOfExamples(["TS-41388"]);
const running: DeskCommand[] = [];
browserBefore();
afterAll(async () => {
  for (const desk of running) await desk.stop("SIGKILL");
  copy.remove();
});

async function start(port: number): Promise<DeskCommand> {
  const desk = await deskCommand(copy.folder, port);
  running.push(desk);
  return desk;
}

it("loses nothing to a killed server, a closed tab or a new start", async () => {
  const file = "TS-41388/2026-09-22.yaml";
  const path = join(copy.folder, file);
  const port = freePort();
  const first = await start(port);
  const { page, context } = await openPage(browser, first);
  await openVisit(page, file);
  const notes = page.locator("#told").getByLabel("Anything else");
  await notes.pressSequentially("Typed before the end.", { delay: 25 });
  await expect.poll(() => readFileSync(path, "utf8")).toContain("Typed before the end.");
  await first.stop("SIGKILL");

  // Typed while nobody listens: it waits on the page.
  await notes.pressSequentially(" Typed into silence.");
  await page.getByText("Not saved: the desk does not answer").waitFor();
  expect(readFileSync(path, "utf8")).not.toContain("silence");

  // Started anew on the same port, opened once: the old page saves what it kept.
  const second = await start(port);
  const other = await context.newPage();
  await page.getByText("Not saved: the desk was started anew").waitFor();
  await other.goto(second.url);
  await expect.poll(() => readFileSync(path, "utf8")).toContain("Typed before the end. Typed into silence.");
  await saved(page);
  await page.close({ runBeforeUnload: false });

  // A closed tab: the next one shows the same.
  await openVisit(other, file);
  expect(await other.locator("#told").getByLabel("Anything else").inputValue()).toBe(
    "Typed before the end. Typed into silence.",
  );
  expect(readdirSync(join(copy.folder, "TS-41388")).filter((name) => name.endsWith(".part"))).toEqual([]);
  await context.close();

  expect(await second.stop()).toBe(0);
});

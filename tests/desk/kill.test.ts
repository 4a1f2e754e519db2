/** The whole command, killed in the middle of typing: what stood on the page a moment before stands in the file. */
import { type ChildProcess, spawn } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, expect, it } from "vitest";
import { root } from "../house/source-files.js";
import { browser, browserBefore } from "./open-before.js";
import { copyOfExamples, openPage, openVisit, saved } from "./open-desk.js";

const copy = copyOfExamples();
const running: ChildProcess[] = [];
browserBefore();
afterAll(async () => {
  for (const child of running) child.kill("SIGKILL");
  copy.remove();
});

async function start(port: number): Promise<{ child: ChildProcess; url: string; port: number }> {
  const child = spawn(
    process.execPath,
    [join(root, "bin", "whorl.js"), "desk", copy.folder, "--port", String(port)],
    {
      stdio: ["ignore", "pipe", "pipe"],
    },
  );
  running.push(child);
  const url = await new Promise<string>((resolve, reject) => {
    child.stdout?.once("data", (data: Buffer) => resolve(data.toString("utf8").trim()));
    child.once("exit", (code) => reject(new Error(`the desk ended with ${code}`)));
  });
  return { child, url, port };
}

it("loses nothing to a killed server, a closed tab or a new start", async () => {
  const file = "TS-41388/2026-09-22.yaml";
  const path = join(copy.folder, file);
  const port = 20_000 + (process.pid % 20_000);
  const first = await start(port);
  const { page, context } = await openPage(browser, first);
  await openVisit(page, file);
  const notes = page.locator("#told").getByLabel("Anything else");
  await notes.pressSequentially("Typed before the end.", { delay: 25 });
  await expect.poll(() => readFileSync(path, "utf8")).toContain("Typed before the end.");
  first.child.kill("SIGKILL");
  await new Promise((resolve) => first.child.once("exit", resolve));

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

  second.child.kill("SIGTERM");
  expect(await new Promise((resolve) => second.child.once("exit", resolve))).toBe(0);
});

/** One browser, and one desk on a copy of the examples, for all tests of the file that imports this. */
import type { Browser } from "playwright-core";
import { afterAll, beforeAll } from "vitest";
import { deskOnExamples, launch, type TestDesk } from "./open-desk.js";

export let browser: Browser;
export let desk: TestDesk;
beforeAll(async () => {
  [browser, desk] = await Promise.all([launch(), deskOnExamples()]);
}, 30_000);
afterAll(async () => {
  await browser?.close();
  await desk?.shut();
});

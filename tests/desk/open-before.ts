/** The browser that all tests share, and one desk on a copy of the examples for all tests of the file that calls for it. */
import type { Browser } from "playwright-core";
import { afterAll, beforeAll } from "vitest";
import { deskOnExamples, sharedBrowser, type TestDesk } from "./open-desk.js";

export let browser: Browser;
export let desk: TestDesk;

/** Called at the head of a test file. */
export function deskBefore(patients?: readonly string[]): void {
  beforeAll(async () => {
    [browser, desk] = await Promise.all([sharedBrowser(), deskOnExamples(patients)]);
  });
  afterAll(async () => {
    await desk?.shut();
  });
}

/** As `deskBefore`, for a file that starts its desks itself. */
export function browserBefore(): void {
  beforeAll(async () => {
    browser = await sharedBrowser();
  });
}

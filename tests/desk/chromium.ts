/** One Chromium for all tests of the desk, started before them and stopped after; each test has a context of its own in it. */
import { existsSync } from "node:fs";
import { chromium } from "playwright-core";
import type { TestProject } from "vitest/node";

declare module "vitest" {
  export interface ProvidedContext {
    /** Where the browser listens; empty where there is none on this machine. */
    chromium: string;
  }
}

export const CHROMIUM = process.env.CHROMIUM ?? "/usr/bin/chromium";

export default async function start(project: TestProject): Promise<(() => Promise<void>) | undefined> {
  if (!existsSync(CHROMIUM)) {
    project.provide("chromium", "");
    return undefined;
  }
  const server = await chromium.launchServer({
    executablePath: CHROMIUM,
    args: [
      "--headless",
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  });
  project.provide("chromium", server.wsEndpoint());
  return () => server.close();
}

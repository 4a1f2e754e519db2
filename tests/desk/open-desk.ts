/** A desk on a copy of the examples, and a real browser before it. */
import { execFileSync } from "node:child_process";
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";
import { inject } from "vitest";
import { ClinicFiles } from "../../src/clinic-folder/clinic-file.js";
import { type RunningDesk, startDesk } from "../../src/desk/serve.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import { root } from "../house/source-files.js";
import { CHROMIUM } from "./chromium.js";

export const TODAY = "2026-11-25";

let known: Knowledge | undefined;
export const knowledge = (): Knowledge => {
  known ??= loadKnowledge();
  return known;
};

/** A folder with the example clinic and its patients, or some of them, gone after the test. */
export function copyOfExamples(only?: readonly string[]): {
  folder: string;
  clinic: string;
  remove: () => void;
} {
  const folder = mkdtempSync(join(tmpdir(), "whorl-desk-"));
  const clinic = join(folder, "clinic.yaml");
  cpSync(join(root, "examples", "clinic.yaml"), clinic);
  for (const id of only ?? readdirSync(join(root, "examples", "patients")))
    cpSync(join(root, "examples", "patients", id), join(folder, "patients", id), { recursive: true });
  return {
    folder: join(folder, "patients"),
    clinic,
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

export interface TestDesk extends RunningDesk {
  readonly folder: string;
  readonly faults: string[];
  read(file: string): string;
  shut(): Promise<void>;
}

export interface DeskOnFolder extends RunningDesk {
  readonly faults: string[];
}

/** A desk on a folder that holds its own clinic file. */
export async function deskOn(folder: string, how: { readonly warm?: boolean } = {}): Promise<DeskOnFolder> {
  buildPage();
  const faults: string[] = [];
  const desk = await startDesk({
    folder,
    knowledge: knowledge(),
    clinics: new ClinicFiles(),
    today: () => TODAY,
    port: 0,
    onFault: (fault) => faults.push(fault),
    ...how,
  });
  return { ...desk, faults };
}

/** Patients that the browser is shown: each visit in the folder is weighed at the start of a desk. */
const SHOWN = ["TS-38870", "TS-40417", "TS-41388", "TS-41520"];

export async function deskOnExamples(patients: readonly string[] = SHOWN): Promise<TestDesk> {
  buildPage();
  const { folder, clinic, remove } = copyOfExamples(patients);
  const faults: string[] = [];
  const desk = await startDesk({
    folder,
    knowledge: knowledge(),
    clinics: new ClinicFiles(clinic),
    today: () => TODAY,
    port: 0,
    onFault: (fault) => faults.push(fault),
  });
  return {
    ...desk,
    folder,
    faults,
    read: (file) => readFileSync(join(folder, file), "utf8"),
    shut: async () => {
      await desk.close();
      remove();
    },
  };
}

/** Bundles the page when its sources are newer than the bundle. */
function buildPage(): void {
  const sources = join(root, "src", "desk");
  const bundle = join(root, "dist", "desk", "page", "main.js");
  const built = existsSync(bundle) ? statSync(bundle).mtimeMs : 0;
  const newest = readdirSync(sources, { recursive: true, encoding: "utf8" }).map(
    (name) => statSync(join(sources, name)).mtimeMs,
  );
  if (Math.max(...newest) > built) execFileSync("npm", ["run", "-s", "build:desk"], { cwd: root });
}

let connected: Promise<Browser> | undefined;

/** The browser of this run, joined once by each worker. What a failed test left open is closed before the next file begins. */
export async function sharedBrowser(): Promise<Browser> {
  const at = inject("chromium");
  if (at === "")
    throw new Error(
      `The tests of the desk need Chromium at ${CHROMIUM}: apt-get install chromium, or name another in CHROMIUM.`,
    );
  connected ??= chromium.connect(at);
  const browser = await connected;
  await Promise.all(browser.contexts().map((context) => context.close()));
  return browser;
}

/** Long enough for a machine on which others work: a limit here finds what hangs, never what is slow. */
const HANGS_MS = 60_000;

export interface Watched {
  readonly page: Page;
  readonly context: BrowserContext;
  /** Requests to anything but the desk, errors of the page, blocked styles and scripts. */
  readonly complaints: string[];
}

export async function openPage(
  browser: Browser,
  desk: { readonly url: string; readonly port: number },
  look: {
    readonly colorScheme?: "light" | "dark";
    readonly width?: number;
    readonly height?: number;
    readonly hasTouch?: boolean;
  } = {},
): Promise<Watched> {
  const { colorScheme = "light", width = 1280, height = 800, hasTouch = false } = look;
  const context = await browser.newContext({ viewport: { width, height }, colorScheme, hasTouch });
  await context.addInitScript(() => {
    const hidden = new CSSStyleSheet();
    hidden.replaceSync(".pages { display: none }");
    document.adoptedStyleSheets = [hidden];
  });
  const page = await context.newPage();
  page.setDefaultTimeout(HANGS_MS);
  const complaints: string[] = [];
  page.on("request", (request) => {
    const url = request.url();
    if (!url.startsWith(`http://127.0.0.1:${desk.port}/`) && !url.startsWith("data:"))
      complaints.push(`request to ${url}`);
  });
  page.on("pageerror", (error) => complaints.push(`error ${error.message}`));
  page.on("console", (message) => {
    // Refused answers are part of the desk; the browser reports them as errors of its own.
    if (message.type() === "error" && !/status of (?:409|410|422)/u.test(message.text()))
      complaints.push(`console ${message.text()}`);
  });
  await page.goto(desk.url);
  await page.getByRole("heading", { name: "Visits", exact: true }).waitFor();
  return { page, context, complaints };
}

/** Opens a visit of the list by its file. */
export async function openVisit(page: Page, file: string): Promise<void> {
  await page.locator(`.cards a[href="#visit=${encodeURIComponent(file)}"]`).click();
  await page.getByRole("heading", { name: "Who and why" }).waitFor();
  await page.locator('.side[aria-busy="false"]').waitFor();
}

/** The printed pages beside the form, which are made and drawn after each edit, stay hidden until a test looks at them. */
export async function showPages(page: Page): Promise<void> {
  await page.evaluate(() => {
    document.adoptedStyleSheets = [];
  });
}

/** Waits until the pages on show are those of the visit as it stands. */
export async function drawn(page: Page): Promise<void> {
  await showPages(page);
  await page.waitForFunction(() => {
    const pages = document.querySelector<HTMLElement>(".pages");
    return pages !== null && pages.dataset.shown !== "" && pages.dataset.shown === pages.dataset.wanted;
  });
}

/** Signs by way of the dialog, having read what stands open. */
export async function sign(page: Page, by: RegExp = /Thorsby/u): Promise<void> {
  await saved(page);
  await page.getByRole("button", { name: "Sign", exact: true }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("group", { name: "Who signs" }).getByRole("radio", { name: by }).check();
  const read = dialog.getByLabel(/I have read what stands open/u);
  if ((await read.count()) > 0) await read.check();
  await dialog.getByRole("button", { name: "Sign", exact: true }).click();
  await page.locator(".bar .state.signed").waitFor();
}

/** Waits until the page says that everything is saved and weighed. */
export async function saved(page: Page): Promise<void> {
  await page.locator('[data-saving="saved"]').waitFor();
}

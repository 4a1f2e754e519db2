/** Headless Chromium as a contestant: prints the letter's own HTML, with the same typefaces as if they were installed. */
import { existsSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { type Browser, chromium, type Page } from "playwright-core";
import type { Letter } from "../../src/letter/document.js";
import { renderHtml } from "../../src/page/html.js";
import type { Contestant } from "./contest.js";
import { facesFolder } from "./faces.js";

const CHROMIUM = process.env.CHROMIUM ?? "/usr/bin/chromium";

/** Why there is no browser to measure; undefined when there is one. */
export function browserMissing(): string | undefined {
  return existsSync(CHROMIUM) ? undefined : `there is none at ${CHROMIUM} (CHROMIUM names another)`;
}

function launch(scratch: string): Promise<Browser> {
  const file = join(scratch, "fonts.conf");
  writeFileSync(
    file,
    `<fontconfig><dir>${facesFolder(scratch)}</dir><cachedir>${join(scratch, "font-cache")}</cachedir></fontconfig>\n`,
  );
  const env = { ...process.env, FONTCONFIG_FILE: file } as Record<string, string>;
  return chromium.launch({ executablePath: CHROMIUM, args: ["--no-sandbox", "--disable-gpu"], env });
}

async function print(page: Page, html: string): Promise<Uint8Array> {
  // Loaded means that pictures are decoded; fonts are waited for besides.
  await page.setContent(html, { waitUntil: "load" });
  await page.evaluate("document.fonts.ready");
  // Paper and margins come from the page's own style, as ours.
  return await page.pdf({ preferCSSPageSize: true, printBackground: true, tagged: true });
}

/** One browser and one page for all letters. */
export async function warmBrowser(scratch: string): Promise<Contestant> {
  const browser = await launch(scratch);
  const page = await browser.newPage();
  return {
    what: "headless Chromium kept warm, the same HTML, tagged (without the foot on every page)",
    prepare: async (letter) => {
      const html = renderHtml(letter);
      return () => print(page, html);
    },
    close: () => browser.close(),
    isElsewhere: true,
  };
}

/** Milliseconds a letter with a browser process for each. */
export async function browserEachTime(letters: readonly Letter[], scratch: string): Promise<number> {
  const start = performance.now();
  for (const letter of letters) {
    const browser = await launch(scratch);
    await print(await browser.newPage(), renderHtml(letter));
    await browser.close();
  }
  return (performance.now() - start) / letters.length;
}

/** Takes the pictures of the desk for the README from the examples: `npm run build && node examples/make-desk-pictures.mjs`. */
import { cpSync, mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { ClinicFiles } from "../dist/clinic-folder/clinic-file.js";
import { startDesk } from "../dist/desk/serve.js";
import { loadKnowledge } from "../dist/knowledge/load.js";

const here = dirname(fileURLToPath(import.meta.url));
const pictures = join(here, "pictures");
const copy = mkdtempSync(join(tmpdir(), "whorl-pictures-"));
cpSync(join(here, "patients"), join(copy, "patients"), { recursive: true });

const desk = await startDesk({
  folder: join(copy, "patients"),
  knowledge: loadKnowledge(),
  clinics: new ClinicFiles(join(here, "clinic.yaml")),
  today: () => "2026-11-25",
  port: 0,
  onFault: (fault) => process.stderr.write(`${fault}\n`),
});
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--disable-sync"],
});

const DRAFT = "TS-41388/2026-09-22.yaml";

async function take(name, prepare) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
  const page = await context.newPage();
  await page.goto(desk.url);
  await page.getByRole("heading", { name: "Visits", exact: true }).waitFor();
  await page.locator(`.cards a[href="#visit=${encodeURIComponent(DRAFT)}"]`).click();
  await page.locator(".pages canvas").first().waitFor();
  await prepare(page);
  await page.waitForTimeout(500);
  await page.screenshot({ path: join(pictures, `desk-${name}.png`) });
  await context.close();
}

const step = (page, title) => page.locator(".steps a", { hasText: title }).click();

try {
  await take("scalp-map", async (page) => {
    await step(page, "Dermoscopy");
    const box = await page.locator(".head-map").boundingBox();
    const mm = box.width / 660;
    const [x, y] = [box.x + 330 * mm, box.y + 150 * mm];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 20 * mm, y, { steps: 4 });
    await page.mouse.up();
  });
  await take("findings", async (page) => {
    await page.getByRole("tab", { name: /Follicular opening/iu }).click();
    await page.locator(".findings").evaluate((el) => el.scrollIntoView({ block: "start" }));
    await page.getByRole("tab", { name: "Reasoning", exact: true }).click();
    await page.locator(".disorder").first().waitFor();
  });
} finally {
  await browser.close();
  await desk.close();
  rmSync(copy, { recursive: true, force: true });
}

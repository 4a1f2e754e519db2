/**
 * What the desk takes on the machine at hand, by the clock and in processor time: `node tests/desk/figures.mjs` after
 * `npm run build`. Fifty keystrokes to drawn pages; those of many visits are printed by many.test.ts.
 */
import { spawn } from "node:child_process";
import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

const root = join(dirname(fileURLToPath(import.meta.url)), "..", "..");
const folder = mkdtempSync(join(tmpdir(), "whorl-figures-"));
cpSync(join(root, "examples", "clinic.yaml"), join(folder, "clinic.yaml"));
cpSync(join(root, "examples", "patients"), join(folder, "patients"), { recursive: true });

const desk = spawn(
  process.execPath,
  [join(root, "bin", "whorl.js"), "desk", join(folder, "patients"), "--port", "5299"],
  {
    stdio: ["ignore", "pipe", "ignore"],
  },
);
const url = await new Promise((resolve) => {
  desk.stdout.once("data", (data) => resolve(String(data).trim()));
});
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? "/usr/bin/chromium",
  args: ["--headless", "--no-sandbox", "--disable-gpu", "--no-first-run"],
});

/** Milliseconds that a process and its children have worked; Linux counts in hundredths of a second. */
function worked(pid) {
  const parents = new Map();
  const own = new Map();
  for (const name of readdirSync("/proc").filter((entry) => /^\d+$/u.test(entry))) {
    try {
      const fields = readFileSync(`/proc/${name}/stat`, "utf8").split(") ").at(-1).split(" ");
      parents.set(Number(name), Number(fields[1]));
      own.set(Number(name), (Number(fields[11]) + Number(fields[12])) * 10);
    } catch {
      // It has ended.
    }
  }
  const isBelow = (one) => one === pid || (parents.get(one) > 1 && isBelow(parents.get(one)));
  return [...own].reduce((sum, [one, ms]) => sum + (isBelow(one) ? ms : 0), 0);
}

const KEYS = "Patches of hair loss for months, and more of it now";
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(url);
  await page.locator(`.cards a[href="#visit=${encodeURIComponent("TS-41388/2026-09-22.yaml")}"]`).click();
  const reason = page.getByLabel("Why the patient came");
  await page.locator(".pages").waitFor({ state: "attached" });
  await page.evaluate(() => {
    const times = [];
    let typed = 0;
    addEventListener(
      "input",
      () => {
        typed = performance.now();
      },
      true,
    );
    new MutationObserver(() => {
      if (typed > 0) times.push(performance.now() - typed);
      typed = 0;
    }).observe(document.querySelector(".pages"), { childList: true });
    window.times = times;
  });
  await reason.fill("X");
  const atPage = (text) =>
    page.waitForFunction(
      (wanted) => document.querySelector(".pages")?.textContent?.replace(/\s+/gu, " ").includes(wanted),
      text.trim(),
    );
  await atPage("X");
  const before = { desk: worked(desk.pid), all: worked(process.pid) };
  await reason.fill("");
  for (const [n, letter] of [...KEYS].entries()) {
    await reason.press(letter === " " ? "Space" : letter);
    await atPage(KEYS.slice(0, n + 1));
  }
  const times = (await page.evaluate(() => window.times)).slice(2).toSorted((a, b) => a - b);
  const at = (share) => times[Math.floor(times.length * share)].toFixed(0);
  const each = (ms) => (ms / KEYS.length).toFixed(0);
  const ofDesk = worked(desk.pid) - before.desk;
  console.log(
    `keystroke to page, ${times.length} keys: median ${at(0.5)} ms (tenth ${at(0.1)}, ninetieth ${at(0.9)}); processor time a key: desk ${each(ofDesk)} ms, desk, browser and this script ${each(worked(process.pid) - before.all)} ms; load ${readFileSync("/proc/loadavg", "utf8").split(" ")[0]}`,
  );
} finally {
  await browser.close();
  desk.kill();
  rmSync(folder, { recursive: true, force: true });
}

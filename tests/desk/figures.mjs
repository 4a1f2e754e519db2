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

const stat = (path) => {
  const [name, rest] = readFileSync(path, "utf8").split(/\) (?=\S \d)/u);
  const fields = rest.split(" ");
  // Linux counts in hundredths of a second.
  return {
    name: name.replace(/^\d+ \(/u, ""),
    parent: Number(fields[1]),
    ms: (Number(fields[11]) + Number(fields[12])) * 10,
  };
};

/** Milliseconds that each thread of this script and of what it started has worked, by what it does for an edit. */
function worked() {
  const processes = new Map();
  for (const id of readdirSync("/proc").filter((entry) => /^\d+$/u.test(entry))) {
    try {
      processes.set(Number(id), stat(`/proc/${id}/stat`).parent);
    } catch {
      // It has ended.
    }
  }
  const isOurs = (id) => id === process.pid || (id > 1 && isOurs(processes.get(id) ?? 0));
  const sums = {};
  for (const id of [...processes.keys()].filter(isOurs)) {
    try {
      const isPage = readFileSync(`/proc/${id}/cmdline`, "utf8").includes("--type=renderer");
      for (const task of readdirSync(`/proc/${id}/task`)) {
        const { name, ms } = stat(`/proc/${id}/task/${task}/stat`);
        const inPage = name.startsWith("Dedicated") ? "reading the PDF" : "other threads of the page";
        const part = isPage ? (Number(task) === id ? "script, layout, canvas" : inPage) : "browser beside it";
        const of = id === desk.pid ? "desk" : id === process.pid ? "this script" : part;
        sums[of] = (sums[of] ?? 0) + ms;
      }
    } catch {
      // It has ended.
    }
  }
  return sums;
}

const KEYS = "Patches of hair loss for months";
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.goto(url);
  await page.locator(`.cards a[href="#visit=${encodeURIComponent("TS-41388/2026-09-22.yaml")}"]`).click();
  const reason = page.getByLabel("Why the patient came");
  await page.locator(".pages").waitFor({ state: "attached" });
  await page.evaluate(() => {
    window.times = [];
    const pages = document.querySelector(".pages");
    let typed = 0;
    addEventListener(
      "input",
      () => {
        typed = performance.now();
      },
      true,
    );
    new MutationObserver(() => {
      if (typed > 0) window.times.push(performance.now() - typed);
      typed = 0;
    }).observe(pages, { childList: true });
  });
  const atPage = (text) =>
    page.waitForFunction(
      (wanted) => document.querySelector(".pages")?.textContent?.replace(/\s+/gu, " ").includes(wanted),
      text.trim(),
      { polling: 50 },
    );
  await reason.fill("X");
  await atPage("X");
  await reason.fill("");
  const before = worked();
  for (const [n, letter] of [...KEYS].entries()) {
    await reason.press(letter === " " ? "Space" : letter);
    await atPage(KEYS.slice(0, n + 1));
  }
  const after = worked();
  const times = (await page.evaluate(() => window.times)).slice(2).toSorted((a, b) => a - b);
  const at = (share) => times[Math.floor(times.length * share)].toFixed(0);
  console.log(
    `keystroke to page, ${times.length} keys: median ${at(0.5)} ms (tenth ${at(0.1)}, ninetieth ${at(0.9)}); load ${readFileSync("/proc/loadavg", "utf8").split(" ")[0]}`,
  );
  console.log("processor time a key, ms:");
  for (const [part, ms] of Object.entries(after).sort((a, b) => b[1] - a[1]))
    console.log(`${((ms - (before[part] ?? 0)) / KEYS.length).toFixed(0).padStart(5)}  ${part}`);
} finally {
  await browser.close();
  desk.kill();
  rmSync(folder, { recursive: true, force: true });
}

/**
 * What the desk takes on the machine at hand, by the clock and in processor time: `node tests/desk/figures.mjs` after
 * `npm run build`. Fifty keys to drawn pages and fifty findings to the reasoning (`EDITS=20`: twenty of each); those of many visits are
 * printed by many.test.ts.
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

/** In the page: `watchNext` makes `edited`, which resolves with the milliseconds from the next key or touch until the first frame in which `isShown` holds. */
function watchEdits() {
  window.watchNext = (isShown, ofPointer) => {
    window.edited = new Promise((resolve, reject) => {
      setTimeout(() => reject(new Error("nothing was drawn within ten seconds")), 10_000);
      const begin = () => {
        const typed = performance.now();
        const seen = {};
        // Nothing to wait for: a space at the end of a line is not seen.
        if (isShown(seen)) return resolve(null);
        const look = () => {
          if (isShown(seen)) resolve(performance.now() - typed);
          else requestAnimationFrame(look);
        };
        requestAnimationFrame(look);
      };
      addEventListener(ofPointer ? "pointerdown" : "keydown", begin, { capture: true, once: true });
    });
  };
}

/** Edits one after the other (keys, or buttons by their names), each once `isShown` (script of the page) holds for the one before (`seen`: what it keeps from frame to frame); says the median and who worked. */
async function measure(page, what, edits, isShown, ofPointer = false) {
  const session = await page.context().newCDPSession(page);
  await session.send("Performance.enable");
  const costs = async () =>
    Object.fromEntries((await session.send("Performance.getMetrics")).metrics.map((m) => [m.name, m.value]));
  const times = [];
  const [before, then] = [worked(), await costs()];
  for (const [n, edit] of edits.entries()) {
    await page.evaluate(`window.watchNext((seen) => ${isShown(n)}, ${ofPointer})`);
    if (ofPointer) await page.getByRole("button", { name: edit }).click();
    else await page.keyboard.press(edit);
    const taken = await page.evaluate("window.edited");
    if (taken !== null) times.push(taken);
    // What comes once the hand rests.
    await page.waitForTimeout(500);
  }
  const [after, now] = [worked(), await costs()];
  times.sort((a, b) => a - b);
  const at = (share) => times[Math.floor(times.length * share)].toFixed(0);
  console.log(
    `${what}, ${times.length} edits: median ${at(0.5)} ms (tenth ${at(0.1)}, ninetieth ${at(0.9)}); load ${readFileSync("/proc/loadavg", "utf8").split(" ")[0]}`,
  );
  const each = (sum) => (sum / edits.length).toFixed(0).padStart(5);
  for (const [part, ms] of Object.entries(after).sort((a, b) => b[1] - a[1]))
    console.log(`${each(ms - (before[part] ?? 0))}  ${part}`);
  for (const [part, name] of [
    ["script", "ScriptDuration"],
    ["layout", "LayoutDuration"],
    ["style", "RecalcStyleDuration"],
  ])
    console.log(`${each((now[name] - then[name]) * 1000)}  of which ${part} (by the clock)`);
}

const KEYS = "Patches of hair loss for months, and an itch behind".slice(0, Number(process.env.EDITS ?? 50));
try {
  const page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
  await page.addInitScript(watchEdits);
  await page.goto(url);
  await page.locator(`.cards a[href="#visit=${encodeURIComponent("TS-41388/2026-09-22.yaml")}"]`).click();
  const reason = page.getByLabel("Why the patient came");
  await page.locator(".pages figure").first().waitFor();
  await reason.fill("");
  await page.waitForTimeout(3000);
  await reason.focus();
  await measure(
    page,
    "key to page",
    [...KEYS].map((letter) => (letter === " " ? "Space" : letter)),
    (n) =>
      `document.querySelector(".pages")?.textContent?.replace(/\\s+/gu, " ").includes(${JSON.stringify(KEYS.slice(0, n + 1).trim())})`,
  );
  await page.getByRole("tab", { name: "Reasoning", exact: true }).click();
  await page.getByRole("tab", { name: "Hair shaft" }).click();
  await page.waitForTimeout(3000);
  await measure(
    page,
    "finding to reasoning",
    [...KEYS].map((_, n) => `broken hairs: ${(n % 5) + 1}`),
    () =>
      `(seen.edited ||= document.querySelector("[data-saving]")?.dataset.saving !== "saved") && document.querySelector("[data-saving]")?.dataset.saving === "saved" && document.querySelector(".side")?.ariaBusy === "false"`,
    true,
  );
} finally {
  await browser.close();
  desk.kill();
  rmSync(folder, { recursive: true, force: true });
}

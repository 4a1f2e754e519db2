/** What a machine can check of accessibility, in a page as it stands. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { AxeResults } from "axe-core";
import type { Page } from "playwright-core";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

/** Runs axe in the page; the desk's own policy allows no script of ours, so the browser evaluates it from outside. */
export async function violations(page: Page, within = "html"): Promise<string[]> {
  await page.evaluate(AXE);
  const found = await page.evaluate(async (at) => {
    const { axe } = window as unknown as {
      axe: { run: (context: string, options: object) => Promise<AxeResults> };
    };
    return axe.run(at, {
      iframes: false,
      runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
      rules: { "color-contrast-enhanced": { enabled: true } },
    });
  }, within);
  return found.violations.flatMap(({ id, nodes }) =>
    nodes.map((node) => `${id}: ${node.target.join(" ")} ${node.failureSummary ?? ""}`),
  );
}

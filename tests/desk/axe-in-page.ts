/** What a machine can check of accessibility, in a page as it stands. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { AxeResults } from "axe-core";
import type { Page } from "playwright-core";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

const ALL = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];
/** What colours and the size of the window decide; all else is the same in each look. */
export const OF_THE_LOOK = [
  "color-contrast",
  "color-contrast-enhanced",
  "link-in-text-block",
  "scrollable-region-focusable",
  "target-size",
];

/** Runs axe in the page; the desk's own policy allows no script of ours, so the browser evaluates it from outside. */
export async function violations(page: Page, within = "html", rules = ALL): Promise<string[]> {
  await page.evaluate(AXE);
  const found = await page.evaluate(
    async ({ within, rules }) => {
      const { axe } = window as unknown as {
        axe: { run: (context: string, options: object) => Promise<AxeResults> };
      };
      return axe.run(within, {
        iframes: false,
        runOnly: rules,
        resultTypes: ["violations"],
        rules: { "color-contrast-enhanced": { enabled: true } },
      });
    },
    { within, rules },
  );
  return found.violations.flatMap(({ id, nodes }) =>
    nodes.map((node) => `${id}: ${node.target.join(" ")} ${node.failureSummary ?? ""}`),
  );
}

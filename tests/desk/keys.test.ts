/** Every key that a visit file can hold has a control of the form, and what is entered there stands in the file under that key. */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Locator } from "playwright-core";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { formFields } from "../../src/desk/form-fields.js";
import type { FormField } from "../../src/desk/messages.js";
import { visitJsonSchema } from "../../src/visit/json-schema.js";
import { VISIT_KEYS } from "../../src/visit/keys.js";
import { browser, desk, deskBefore } from "./open-before.js";
import { knowledge, openPage, openVisit, saved, sign } from "./open-desk.js";

deskBefore();

const FILE = "TS-41388/2026-09-22.yaml";
/** One entry in every list, so that its fields are on the page. */
const BARE = `format: 1
visit: { id: TS-2026-0613, date: 2026-09-22, status: draft, seen_by: anneli-thorsby }
patient: { id: TS-41388, name: { family: Lindqvist-Mbeki }, born: 1997-04-03 }
send_to: [{ role: parent, name: Nobody }]
history: { medicines: [{ name: zinc, for: hair }] }
pull_test: [{ site: vertex, pulled: 1, came_out: 1 }]
sites:
  - site: vertex
    at: { x: 0.5, y: 0.5 }
    fields: [{ hairs: 1 }]
    photos: [{ file: a.jpg }]
tests: [{ name: zinc }]
impression: [{ disorder: psoriasis, certainty: possible }]
plan: [{ who: nobody, action: Nothing. }]
accept: [{ id: some-message, reason: None. }]
scores: { comb-test: { day_1: 1 } }
`;

/** Written by an act of its own, not by a field. */
const BY_AN_ACT: Readonly<Record<string, string>> = {
  format: "stands in every file that the desk begins",
  "visit.status": "signing and reopening",
  "signed.by": "signing",
  "signed.at": "signing",
  "signed.edition": "signing again",
  "signed.reason": "reopening",
  "signed.seal": "no person writes it",
};

const LISTS =
  /^(?:send_to|pull_test|sites|sites\.fields|sites\.photos|tests|impression|plan|accept|history\.medicines)$/u;
const fields = formFields(visitJsonSchema(knowledge()));

/** `sites.fields.hairs` -> `sites[0].fields[0].hairs` */
const placeOf = (path: string): string => {
  const steps = path.split(".");
  return steps
    .map(
      (step, i) =>
        `${step}${LISTS.test(steps.slice(0, i + 1).join(".")) && i < steps.length - 1 ? "[0]" : ""}`,
    )
    .join(".");
};

const valueAt = (file: unknown, path: string): unknown =>
  placeOf(path)
    .split(/[.[\]]+/u)
    .filter(Boolean)
    .reduce<unknown>((here, step) => (here as Record<string, unknown> | undefined)?.[step], file);

function valueFor({ path, kind, least = 0, greatest = 0, words = [] }: FormField, n: number): string {
  if (kind === "number") return String(Math.min(greatest, Math.max(least, 2)));
  if (kind === "date") return "2026-01-05";
  if (kind === "word") return words.at(-1) ?? "";
  if (path === "patient.language") return "de";
  return `text ${n}`;
}

/** Enters something as a person would, whatever the control is. */
async function enter(control: Locator, value: string): Promise<void> {
  const tag = await control.evaluate((el) => el.tagName.toLowerCase());
  if (tag === "input" || tag === "textarea") return control.fill(value);
  if (tag === "select") {
    const options = await control
      .locator("option")
      .evaluateAll((all) => all.map((o) => (o as HTMLOptionElement).value));
    const now = await control.inputValue();
    await control.selectOption(options.filter((o) => o !== "" && o !== now)[0] ?? "");
    return;
  }
  if (tag === "label") return control.click();
  const radios = control.getByRole("radio");
  if ((await radios.count()) > 0) return radios.last().evaluate((el) => (el as HTMLInputElement).click());
  const combo = control.getByRole("combobox");
  const chips = control.locator("button.chip");
  if ((await chips.count()) > 0) return chips.last().click();
  const input =
    (await combo.count()) > 0 ? combo.first() : control.locator("xpath=..").getByRole("combobox").first();
  await input.fill("a");
  await input.press("Enter");
}

describe("the form", () => {
  it("knows each key of the table, with the kind that the schema gives it", () => {
    expect(fields.map(({ path }) => path)).toEqual(VISIT_KEYS.map(({ path }) => path));
    const kindOf = (path: string) => fields.find((field) => field.path === path)?.kind;
    expect(
      [
        "history.duration_weeks",
        "history.onset",
        "history.family",
        "history.exposures",
        "examination.signs",
        "tests.date",
      ].map(kindOf),
    ).toEqual(["number", "word", "lines", "words", "map", "date"]);
    expect(
      ["plan.declined", "plan.answers", "told", "tests.unit", "sites.notes", "send_to.copy"].map(kindOf),
    ).toEqual(["yes-no", "words", "prose", "line", "prose", "yes-no"]);
  });

  it("has a control for every key, and writes each under its own name", async () => {
    writeFileSync(join(desk.folder, FILE), BARE);
    const { page, context, complaints } = await openPage(browser, desk);
    await openVisit(page, FILE);
    await page.evaluate(() => {
      for (const d of document.querySelectorAll("details")) d.open = true;
    });
    const without: string[] = [];
    for (const [n, field] of fields.entries()) {
      if (Object.hasOwn(BY_AN_ACT, field.path)) continue;
      if (field.path === "sites.findings") {
        await page.getByRole("tab", { name: "Hair shaft" }).click();
        await page.getByRole("button", { name: "broken hairs: 4 many" }).click();
        continue;
      }
      if (field.path === "sites.none_of") {
        await page.getByRole("button", { name: /Nothing else of these seen/u }).click();
        continue;
      }
      if (field.path === "scores") {
        await page.locator("fieldset.score").getByRole("textbox").first().fill("12");
        continue;
      }
      if (field.path.startsWith("sites.at.")) {
        await page.locator("[data-pin='1']").press(field.path.endsWith("x") ? "ArrowRight" : "ArrowDown");
        continue;
      }
      if (field.path === "history.began.weeks_before" || field.path === "history.began.age_years") {
        // One of three: each way has its own field once it is chosen.
        const began = page.locator('[data-place="history.began"]');
        await began
          .getByRole("radio", {
            name: field.path.endsWith("age_years") ? "at an age" : "weeks before the visit",
          })
          .check();
        await began.getByRole("textbox").fill("12");
        await expect.poll(() => valueAt(parse(desk.read(FILE)), field.path)).toBe(12);
        continue;
      }
      const control = page
        .locator(`#form [data-place="${placeOf(field.path)}${field.path.endsWith(".units") ? ".1" : ""}"]`)
        .first();
      if ((await control.count()) === 0) {
        without.push(field.path);
        continue;
      }
      await enter(control, valueFor(field, n));
    }
    expect(without, "keys without a control").toEqual([]);
    await saved(page);
    const file: unknown = parse(desk.read(FILE));
    const before: unknown = parse(BARE);
    const unchanged = fields
      .filter(({ path }) => !Object.hasOwn(BY_AN_ACT, path) && !/^history\.began\.(?:when|weeks)/u.test(path))
      .filter(({ path }) => JSON.stringify(valueAt(file, path)) === JSON.stringify(valueAt(before, path)))
      .map(({ path }) => path);
    expect(unchanged, "keys whose control wrote nothing").toEqual([]);
    expect(complaints).toEqual([]);
    await context.close();
  });

  it("writes what signing and reopening leave behind", async () => {
    const { page, context } = await openPage(browser, desk);
    const file = "TS-40417/2026-06-04.yaml";
    await openVisit(page, file);
    if ((await page.getByRole("button", { name: "Reopen as draft" }).count()) === 0) await sign(page);
    await page.getByRole("button", { name: "Reopen as draft" }).click();
    await page.getByLabel(/Why it is changed/u).fill("A slip.");
    await page.getByRole("dialog").getByRole("button", { name: "Reopen" }).click();
    await page.locator(".bar .state.draft").waitFor();
    await sign(page);
    const signed = parse(desk.read(file)) as { visit: unknown; signed: unknown };
    expect(signed.visit).toMatchObject({ status: "signed" });
    expect(signed.signed).toMatchObject({ by: "anneli-thorsby", edition: 2, reason: "A slip." });
    await context.close();
  });
});

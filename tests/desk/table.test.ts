/** The columns of a table placed by their form: searched, with units and meanings, what is lacking given for all, and the mapping kept. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { parse } from "yaml";
import { violations } from "./axe-in-page.js";
import { browser, desk, deskBefore } from "./open-before.js";
import { openPage } from "./open-desk.js";

deskBefore(["TS-40417"]);

const TABLE = `Visit number;Seen on;Why;Patient number;Given name;Family name;Born;Lasting (months);Where;Yellow dots;Locker
TS-2026-0901;24.11.2026;Hair loss;TS-90101;Oda;Quillfeather;14.02.1980;18;crown of all;+;7
TS-2026-0902;24.11.2026;Itch;TS-90102;Ivo;Marrowdale;03.09.1971;3;vertex;many;8
`;

it("places every column of a table by its form, and writes what it shows", async () => {
  const { page, context, complaints } = await openPage(browser, desk, { width: 1280, height: 900 });
  await page.getByRole("button", { name: "Visits from a table" }).click();
  const dialog = page.getByRole("dialog");
  await dialog
    .locator("input[type=file]")
    .setInputFiles({ name: "export.csv", mimeType: "text/csv", buffer: Buffer.from(TABLE) });
  const column = (name: string) => dialog.getByRole("group", { name, exact: true });
  await column("Born").getByText("Patient: Born").waitFor();
  expect(await column("Born").getByText("14.02.1980").count()).toBe(1);
  const place = async (name: string, typed: string, option: RegExp, goes: string) => {
    const field = column(name).locator(".combo input");
    await field.fill(typed);
    await column(name).getByRole("option", { name: option }).first().click();
    await column(name).locator(".goes", { hasText: goes }).waitFor();
  };
  // Findings were of the whole scalp until a column named the place.
  const text = () => dialog.getByLabel("What each column is").inputValue();
  expect(await text()).toContain(`Yellow dots: "sites[whole scalp].findings.yellow dots"`);
  await place("Where", "region", /^Place: Region/u, "Place: Region");
  await expect.poll(text).toMatch(/Yellow dots: "?site\.findings\.yellow dots/u);
  await place("Why", "why the pat", /Why the patient came/u, "Visit: Why the patient came");
  await place("Lasting (months)", "durat", /^History: Duration/u, "History: Duration");
  await column("Lasting (months)").getByLabel("In", { exact: true }).selectOption("months");
  await column("Where").getByLabel("“crown of all” means").selectOption("vertex");
  await column("Yellow dots").getByLabel("“+” means").selectOption("few");
  await column("Locker").getByRole("button", { name: "Leave it out" }).click();
  await column("Locker").getByText("Left out on purpose").waitFor();
  await dialog.getByLabel("Visit: Seen by").fill("anneli-thorsby");
  await dialog.getByLabel("Visit: Seen by").blur();
  await expect.poll(() => dialog.getByRole("button", { name: "Write all 2 visits" }).isEnabled()).toBe(true);
  expect(await violations(page, "dialog")).toEqual([]);
  expect(await text()).not.toMatch(/not placed|give these a meaning|needed, and/u);
  await dialog.getByRole("button", { name: "Write all 2 visits" }).click();
  await dialog.getByText("2 visits were written.").waitFor();
  const first = parse(desk.read("TS-90101/TS-2026-0901.yaml")) as object;
  expect(first).toMatchObject({
    visit: { date: "2026-11-24", seen_by: "anneli-thorsby", reason: "Hair loss", status: "draft" },
    history: { duration_weeks: 78 },
    sites: [{ site: "vertex", findings: { "yellow dots": "few" } }],
  });
  const mapping = parse(readFileSync(join(desk.folder, "mapping.yaml"), "utf8")) as object;
  expect(mapping).toMatchObject({
    columns: {
      "Lasting (months)": { to: "history.duration_weeks", unit: "months" },
      Where: { to: "site", values: { "crown of all": "vertex" } },
    },
    constants: { "visit.seen_by": "anneli-thorsby" },
    ignore: ["Locker"],
  });
  expect(complaints).toEqual([]);
  await context.close();
});

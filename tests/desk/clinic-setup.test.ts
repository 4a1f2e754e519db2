/** The clinic's set-up: what is kept, what is refused, and the file that a page full of answers comes to. */
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Locator } from "playwright-core";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { checkClinic } from "../../src/batch/check-clinic.js";
import { ClinicFiles } from "../../src/clinic-folder/clinic-file.js";
import { openDesk } from "../../src/desk/desk.js";
import type { ClinicState, ClinicTried, Edit } from "../../src/desk/messages.js";
import { type Routes, routesOf } from "../../src/desk/routes.js";
import { Changed } from "../../src/desk/session.js";
import { readClinic } from "../../src/visit/clinic.js";
import { violations } from "./axe-in-page.js";
import { browser, browserBefore } from "./open-before.js";
import { deskOn, drawn, knowledge, openPage, TODAY } from "./open-desk.js";
import { readPdf } from "./read-pdf.js";

browserBefore();

let folder = "";
let file = "";
let routes: Routes;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), "whorl-clinic-"));
  file = join(folder, "clinic.yaml");
  const clinics = new ClinicFiles();
  routes = routesOf(openDesk({ folder, knowledge: knowledge(), clinics, today: () => TODAY }));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const state = async () => (await routes.get.clinic?.()) as ClinicState;
const tried = async (edits: readonly Edit[]) => (await routes.post["clinic-try"]?.({ edits })) as ClinicTried;
const save = async (base: string, edits: readonly Edit[]) =>
  (await routes.post["clinic-save"]?.({ base, edits })) as ClinicState;
const set = (path: Edit["path"], value: string | readonly string[] | object): Edit =>
  ({ do: "set", path, value }) as Edit;

const OWN = `# Ours since the move.
name: Net Loft Scalp Clinic
lines: [ 4 Quay Lane, Tarn Sound ]   # not the old address
phone: 01632 960155
people:
  wen-castellane: { name: Wen Castellane, role: Secretary }   # opens the post
  rafiq-oyelaran:
    name: Rafiq Oyelaran
    role: Nurse specialist
    registration: TS-N-31188
    may_sign: true
emergency:
  - { label: Emergency services, number: 01632 960999 }
late_after:
  culture: { weeks: 6 }   # the island's own laboratory
`;

describe("the clinic file", () => {
  it("keeps its comments and what the form does not know, line for line", async () => {
    writeFileSync(file, OWN);
    const before = await state();
    expect(before).toMatchObject({ file, isThere: true, problems: [] });
    const after = await save(before.hash, [
      set(["phone"], "01632 960156"),
      set(["people", "rafiq-oyelaran", "qualifications"], "RN, MSc"),
      set(["address_window"], "uk-dl"),
    ]);
    expect(readFileSync(file, "utf8")).toBe(
      OWN.replace("960155", "960156")
        .replace("    registration: TS-N", "    qualifications: RN, MSc\n    registration: TS-N")
        .replace("emergency:", "address_window: uk-dl\nemergency:"),
    );
    expect(after.problems).toEqual([]);
    await expect(save(before.hash, [set(["phone"], "01632 960157")])).rejects.toThrow(Changed);
  });

  it("is told what `whorl check` tells of it, and is not written with an error that it did not have", async () => {
    writeFileSync(file, OWN);
    const { hash } = await state();
    const edits = [set(["phone"], "soon"), set(["people", "rafiq-oyelaran", "may_sign"], "false")];
    const { problems, inTheWay } = await tried(edits);
    expect(inTheWay.map(({ id, path }) => [id, path])).toEqual([["bad-phone", "phone"]]);
    expect(problems.map(({ id }) => id)).toContain("nobody-signs");
    await expect(save(hash, edits)).rejects.toThrow("cannot be written");
    expect(readFileSync(file, "utf8")).toBe(OWN);
    // The same text, written by hand, is checked to the same words.
    writeFileSync(file, OWN.replace("01632 960155", "soon").replace("may_sign: true", "may_sign: false"));
    expect((await checkClinic(file, knowledge())).map(({ id, message }) => [id, message])).toEqual(
      problems.map(({ id, message }) => [id, message]),
    );
    // A slip that stands there already is no reason to keep a right change out.
    writeFileSync(file, `${OWN}opening: [ Monday ]\n`);
    const odd = await state();
    expect(odd.problems.map(({ id }) => id)).toEqual(["unknown-key"]);
    await save(odd.hash, [set(["phone"], "01632 960158")]);
    expect(readFileSync(file, "utf8")).toContain("opening: [ Monday ]");
  });

  it("keeps whoever a visit names", async () => {
    writeFileSync(file, OWN);
    writeFileSync(
      join(folder, "v.yaml"),
      "format: 1\nvisit: { id: V-1, date: 2026-01-02, seen_by: rafiq-oyelaran }\n",
    );
    const { hash } = await state();
    const gone: Edit[] = [{ do: "remove", path: ["people", "rafiq-oyelaran"] }];
    expect((await tried(gone)).inTheWay.map(({ message }) => message)).toContain(
      "1 visit names rafiq-oyelaran",
    );
    await save(hash, [{ do: "remove", path: ["people", "wen-castellane"] }]);
    expect(Object.keys(readClinic(file).value?.people ?? {})).toEqual(["rafiq-oyelaran"]);
  });

  it("takes any logo that can be printed, and none that could run or load", async () => {
    writeFileSync(file, OWN);
    const logo = (name: string, text: string) =>
      routes.post["clinic-logo"]?.({ name, bytes: Buffer.from(text).toString("base64") }) as Promise<{
        logo: string;
      }>;
    const svg = (inside: string) =>
      `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9">${inside}</svg>`;
    const styled = svg("<style>.a{fill:#123456}</style><circle class='a' cx='4' cy='4' r='4'/>");
    expect(await logo("a.svg", styled)).toEqual({ logo: "logo.svg" });
    expect(await logo("again.svg", styled)).toEqual({ logo: "logo.svg" });
    expect(await logo("b.svg", svg("<path d='M0 0h9'/>"))).toEqual({ logo: "logo-2.svg" });
    expect(readFileSync(join(folder, "logo.svg"), "utf8")).toBe(styled);
    const refused = (name: string, text: string) =>
      expect((async () => logo(name, text))()).rejects.toThrow();
    await refused("c.svg", svg("<script>1</script>"));
    await refused("c.svg", svg("<image href='http://elsewhere.example/x.png'/>"));
    await refused("d.png", "not a picture");
    await refused("e.gif", "GIF89a");
    await refused("../f.svg/..", svg(""));
    expect(existsSync(join(folder, "logo-3.svg"))).toBe(false);
    expect(existsSync(join(folder, "logo.png"))).toBe(false);
  });

  it("shows its letter and its envelope sheet before a word of it is written", async () => {
    const words = async (edits: readonly Edit[], show: "letter" | "window") => {
      const given = await routes.files["clinic-sheet"]?.({ edits, show });
      return (await readPdf(given?.bytes ?? new Uint8Array())).text;
    };
    expect(await words([], "letter")).toContain("Name of the clinic");
    const edits = [set(["name"], "Net Loft Scalp Clinic"), set(["address_window"], "din-5008-b")];
    expect(await words(edits, "letter")).toContain("Net Loft Scalp Clinic");
    const sheet = await words(edits, "window");
    expect(sheet).toContain("80 mm wide and 27.3 mm high, 25 mm from the left");
    expect(sheet).toContain("edge and 62.7 mm from the top.");
    expect(sheet).toContain("Last line that the window shows");
    await expect(words([set(["name"], "X")], "window")).rejects.toThrow("Choose the window");
    expect(existsSync(file)).toBe(false);
  });
});

it("is set up in the page, from a folder without a clinic file to one that passes the check", async () => {
  const desk = await deskOn(folder);
  const { page, context, complaints } = await openPage(browser, desk, { width: 1440, height: 900 });
  await page.getByRole("link", { name: "Set up the clinic" }).click();
  await page.getByLabel("Name of the clinic").fill("Net Loft Scalp Clinic");
  await page.getByRole("button", { name: "Save" }).click();
  await page.getByText("The clinic file cannot be written like this.").waitFor();
  expect(existsSync(file)).toBe(false);
  await page.getByLabel("Telephone").fill("01632 960155");
  await page.getByLabel("Address one a line").fill("4 Quay Lane\nTarn Sound");
  const person = (n: number) => page.locator(".person").nth(n);
  await person(0).getByLabel("Name").fill("Dr Anneli Thorsby");
  await person(0).getByLabel("Role").fill("Consultant dermatologist");
  await person(0).getByLabel("Registration").fill("TS-D-20417");
  await page.getByRole("button", { name: "Add a person" }).click();
  await person(1).getByLabel("Name").fill("Wen Castellane");
  await person(1).getByLabel("Role").fill("Clinic secretary");
  await page.getByRole("textbox", { name: "What for" }).first().fill("Emergency services");
  await page.getByRole("textbox", { name: "Number" }).first().fill("01632 960999");
  await page.getByLabel("uk-dl").check();
  const logo = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 9 9"><circle cx="4" cy="4" r="4"/></svg>`;
  const dropped = await page.evaluateHandle((svg) => {
    const held = new DataTransfer();
    held.items.add(new File([svg], "ours.svg", { type: "image/svg+xml" }));
    return held;
  }, logo);
  const drop = async (place: Locator) => {
    for (const kind of ["dragover", "drop"]) await place.dispatchEvent(kind, { dataTransfer: dropped });
  };
  // Beside its place nothing takes a file, and the browser does not open it in place of the page.
  expect(
    await page.evaluate(() => {
      const event = new DragEvent("drop", { bubbles: true, cancelable: true });
      document.querySelector("main")?.dispatchEvent(event);
      return event.defaultPrevented;
    }),
  ).toBe(true);
  await page.getByText("No logo: the clinic's name stands alone.").waitFor();
  await drop(page.getByRole("group", { name: "Logo" }));
  await page.getByText("Logo: logo.svg").waitFor();
  // What was typed and not saved is there again after a look at the visits.
  await page.getByRole("link", { name: "Visits" }).click();
  await page.getByRole("link", { name: "Go on with it" }).click();
  expect(await person(1).getByLabel("Name").inputValue()).toBe("Wen Castellane");
  await drawn(page);
  expect(await page.locator(".pages").textContent()).toContain("Net Loft Scalp Clinic");
  expect(await violations(page)).toEqual([]);
  await page.getByRole("button", { name: "Save" }).click();
  await page.getByText("Saved.", { exact: true }).waitFor();
  expect(readFileSync(file, "utf8")).toBe(`name: Net Loft Scalp Clinic
lines: [ 4 Quay Lane, Tarn Sound ]
phone: 01632 960155
logo: logo.svg
people:
  anneli-thorsby:
    name: Dr Anneli Thorsby
    role: Consultant dermatologist
    registration: TS-D-20417
    may_sign: true
  wen-castellane:
    name: Wen Castellane
    role: Clinic secretary
address_window: uk-dl
emergency:
  - { label: Emergency services, number: 01632 960999 }
`);
  expect(await checkClinic(file, knowledge())).toEqual([]);
  // Another program's change stands, and so does what was typed here.
  await page.getByLabel("Telephone").fill("01632 960156");
  writeFileSync(file, readFileSync(file, "utf8").replace("Clinic secretary", "Practice secretary"));
  await page.getByRole("button", { name: "Save" }).click();
  await page.getByText("Another program changed the clinic file").waitFor();
  expect(await person(1).getByLabel("Role").inputValue()).toBe("Practice secretary");
  await page.getByRole("button", { name: "Save" }).click();
  await page.getByText("Saved.", { exact: true }).waitFor();
  expect(readFileSync(file, "utf8")).toMatch(/960156[\s\S]*Practice secretary/u);
  await page.getByRole("link", { name: "Visits" }).click();
  await page.getByText("Net Loft Scalp Clinic").waitFor();
  expect(complaints).toEqual([]);
  expect(desk.faults).toEqual([]);
  await context.close();
  await desk.close();
});

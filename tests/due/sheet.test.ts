import { describe, expect, it } from "vitest";
import { about } from "../../src/due/about.js";
import { WAITING_KINDS, type WorkLine } from "../../src/due/work-line.js";
import { workCsv, workJson } from "../../src/due/work-out.js";
import { workSheetFacts } from "../../src/due/work-sheet.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import { inLanguage } from "../../src/knowledge/translate.js";
import { composeSheet } from "../../src/letter/sheet.js";
import { renderText } from "../../src/page/text.js";
import { clinic } from "../letter/compose.js";
import { visit } from "./invented.js";

const since = "2026-03-12";
const every: WorkLine[] = WAITING_KINDS.map((kind) =>
  about(visit(), kind, { since, detail: "3", edition: 2 }),
);
const late = about(visit(), "test-awaited", { since, by: "2026-04-23", detail: "fungal culture" });
const urgent = about(visit(), "must-not-miss", { since, urgency: "now", who: "the desk", detail: "Look." });

function sheet(
  lines: readonly WorkLine[],
  language = "en-GB",
  hasRegister = true,
  local?: Knowledge,
): string {
  const facts = workSheetFacts({
    ...{ lines, today: "2026-04-24", visits: 7, hasRegister },
    ...(local ? { local } : {}),
  });
  const { value, problems } = composeSheet({
    name: "open-work",
    facts,
    clinic: { ...clinic, language },
    date: "2026-04-24",
  });
  if (!value) throw new Error(problems.map((p) => p.message).join("; "));
  expect(value.identifiers).not.toContain("Solheim");
  return renderText(value).replace(/\s+/gu, " ");
}

describe("the sheet of open work", () => {
  it("says in whole sentences what waits, since when, who, and by when", () => {
    const text = sheet([urgent, late]);
    expect(text).toContain(
      "As of 24 April 2026. Visits read: 7. Lines: 2, of which somebody must act on 2. The most urgent and oldest stand first",
    );
    expect(text).toContain("Must not be missed. Look.");
    expect(text).toContain("Since 12 March 2026, about 6 weeks; V-1");
    expect(text).toContain("The desk");
    expect(text).toContain("Test awaited: fungal culture.");
    expect(text).toContain("was due 23 April 2026");
    expect(text.indexOf("Now")).toBeLessThan(text.indexOf("Due"));
    expect(text).not.toContain("no register");
  });

  it("says that a day is still to come", () => {
    expect(sheet([{ ...late, by: "2026-04-24", due: false }])).toContain("due 24 April 2026");
    expect(sheet([{ ...late, by: "2026-04-24", due: false }])).not.toContain("was due");
  });

  it("says that nothing waits, and that nothing is known of letters", () => {
    expect(sheet([], "en-GB", false)).toContain(
      "There is no register here, so nothing is known of letters made and sent. Nothing waits.",
    );
  });

  it("says a line and a question in its own language", () => {
    const line = about(visit(), "must-not-miss", {
      since,
      who: "the desk",
      detail: "Look.",
      of: "arteritis",
    });
    const question = about(visit(), "not-asked", { since, detail: "Is it so?", of: "marrow-signs" });
    const made = about(visit(), "not-made", { since, who: "the clinic" });
    const lines = [line, question, made];
    const german = inLanguage(loadKnowledge(), "de");
    const text = sheet(lines, "de", true, german);
    expect(text).toMatch(/Wunde Kopfhaut oder Schläfen,/u);
    expect(text).toContain("Wer untersucht hat,");
    expect(text).toContain("Gibt es Fieber,");
    expect(text).toContain("Unsere Klinik");
    expect(text).not.toMatch(/Look|Is it so|desk|clinic/u);
    expect(sheet(lines)).toContain("The clinic");
  });

  it.each(["en-GB", "en-US", "de", "es"])("has words for every kind in %s", (language) => {
    for (const line of every) {
      const text = sheet([line], language);
      const empty = sheet([{ ...line, kind: "none" as "draft" }], language);
      expect(text.length, line.kind).toBeGreaterThan(empty.length + 8);
    }
  });
});

describe("the list for other programs", () => {
  const path = (file: string) => file.replace("/clinic/", "");

  it("as JSON", () => {
    expect(workJson(late, "2026-04-24", path)).toEqual({
      kind: "test-awaited",
      urgency: null,
      due: true,
      what: "The result of fungal culture is awaited.",
      who: "",
      patient: { id: "TS-40417", name: "Solheim, Marit" },
      visit: "V-1",
      file: "V-1.yaml",
      since: "2026-03-12",
      by: "2026-04-23",
      days: 43,
    });
  });

  it("as CSV, in which no spreadsheet finds a formula", () => {
    expect(workCsv([{ ...late, what: "=1+1", due: false }], "2026-04-24", path)).toBe(
      'kind,urgency,due,what,who,patient,name,visit,since,by,days,file\r\ntest-awaited,,no,\'=1+1,,TS-40417,"Solheim, Marit",V-1,2026-03-12,2026-04-23,43,V-1.yaml\r\n',
    );
  });
});

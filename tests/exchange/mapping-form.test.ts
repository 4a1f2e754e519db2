/** A mapping as a form: what is drafted, what is still open, units, and remarks that go once they are settled. */
import { describe, expect, it } from "vitest";
import {
  mappingDraft,
  mappingForm,
  readMapping,
  tableToVisits,
  withoutOldRemarks,
} from "../../src/exchange/exchange.js";
import { meaningAt } from "../../src/exchange/mapping-draft.js";
import { mappedPlaces } from "../../src/exchange/table-places.js";
import { knowledge } from "./examples.js";

const bytes = (text: string) => new TextEncoder().encode(text);
const TABLE = bytes(
  "Visit number;Date;Seen by;Patient number;Given name;Family name;Born;Duration (months);Length (cm);Width mm;Region;Yellow dots;Locker\n" +
    "V-1;2026-11-24;anneli-thorsby;P-1;Oda;Quill;1980-02-14;18;2.5;20;crown of all;+;7\n" +
    "V-2;2026-11-24;anneli-thorsby;P-2;Ivo;Marrow;1971-09-03;0.5;3;20;vertex;many;8\n",
);
const drafted = (): string => {
  const draft = mappingDraft(TABLE, "export.csv", knowledge);
  if ("fault" in draft) throw new Error(draft.fault);
  return draft.text;
};
const form = (mapping: string) => mappingForm(TABLE, mapping, knowledge);
const column = (mapping: string, name: string) => form(mapping)?.columns.find((one) => one.column === name);

describe("a mapping as a form", () => {
  it("shows each column with its first cells, its place, its units and the cells that are open", () => {
    const mapping = drafted();
    expect(column(mapping, "Date")).toMatchObject({
      place: "visit.date",
      first: ["2026-11-24"],
      cells: [],
      units: [],
    });
    expect(column(mapping, "Duration (months)")).toMatchObject({
      place: "history.duration_weeks",
      unit: "months",
      units: ["weeks", "days", "months", "years"],
    });
    expect(column(mapping, "Region")).toMatchObject({
      place: "site",
      cells: [{ cell: "crown of all", means: "", isOpen: true }],
    });
    expect(column(mapping, "Region")?.words).toContain("vertex");
    expect(column(mapping, "Yellow dots")).toMatchObject({ cells: [{ cell: "+", isOpen: true }] });
    expect(column(mapping, "Locker")).toMatchObject({ place: "", first: ["7", "8"], isIgnored: false });
    // A decimal comma and a day before its month say what the file says with a point and in ISO order.
    expect(meaningAt("site.patch.length_mm", "2,5", knowledge)).toBe("2,5");
    expect(meaningAt("history.duration_weeks", "wide", knowledge)).toBeUndefined();
    expect(meaningAt("visit.date", "24.11.2026", knowledge)).toBe("24.11.2026");
    expect(form(mapping)?.constants).toEqual({ "visit.status": "draft" });
    expect(form("columns: [")).toBeUndefined();
  });

  it("offers every place that a mapping takes, and no other", () => {
    const places = mappedPlaces(knowledge);
    expect(places.map(({ place }) => place)).toEqual(
      expect.arrayContaining([
        "visit.id",
        "send_to[0].name",
        "site",
        "site.patch.length_mm",
        "tests[0].value",
      ]),
    );
    for (const { place } of places) {
      const { problems } = readMapping(`format: 1\ncolumns:\n  x: ${place}\n`, "m", knowledge);
      expect(problems, place).toEqual([]);
    }
  });

  it("reads months as weeks and centimetres as millimetres", () => {
    const mapping = drafted()
      .replace(/Region: site/u, "Region: { to: site, values: { crown of all: vertex } }")
      .replace(
        /^ {2}Yellow dots: .*$/mu,
        '  Yellow dots: { to: site.findings.yellow dots, values: { "+": few } }',
      )
      .replace("columns:", "columns:\n  Width mm: site.patch.width_mm");
    const { value, problems } = readMapping(
      mapping.replace(/(Width mm: site.patch.width_mm[\s\S]*)\n {2}Width mm: .*/u, "$1"),
      "m",
      knowledge,
    );
    expect(problems).toEqual([]);
    if (!value) return;
    const { rows } = tableToVisits(TABLE, value, knowledge);
    expect(rows.map(({ visit }) => visit?.history.durationWeeks)).toEqual([78, 2.2]);
    expect(rows[0]?.visit?.sites[0]?.patch).toMatchObject({ lengthMm: 25, widthMm: 20 });
  });

  it("refuses a unit that the place does not have", () => {
    const wrong = "format: 1\ncolumns:\n  a: { to: history.duration_weeks, unit: mm }\n";
    expect(readMapping(wrong, "m", knowledge).problems).toMatchObject([
      { id: "unknown-word", line: 3, found: "mm" },
    ]);
    const none = "format: 1\ncolumns:\n  a: { to: visit.id, unit: mm }\n";
    expect(readMapping(none, "m", knowledge).problems).toMatchObject([{ id: "unknown-word" }]);
  });

  it("loses a remark once it is settled, and no other line", () => {
    const mapping = drafted();
    expect(withoutOldRemarks(mapping)).toBe(mapping);
    expect(mapping).toContain("# Locker: not placed; holds");
    expect(mapping).toContain("# give these a meaning under values: crown of all");
    const settled = withoutOldRemarks(
      mapping
        .replace("empty:", "ignore: [Locker]\nempty:")
        .replace(/Region: site/u, "Region: { to: site, values: { crown of all: vertex } }"),
    );
    expect(settled).not.toContain("not placed; holds");
    expect(settled).not.toContain("under values: crown of all");
    expect(settled).toContain("# How the columns of export.csv become visits.");
    expect(settled.split("\n")).toHaveLength(mapping.split("\n").length - 1);
    const behind =
      'format: 1\ncolumns:\n  Dots: { to: site.findings.yellow dots, values: { "+": few } } # give these a meaning under values: +\n';
    expect(withoutOldRemarks(behind)).toBe(behind.replace(/ # give.*/u, ""));
    expect(withoutOldRemarks(behind.replace("values: +", "values: +, ++"))).toContain(
      "# give these a meaning",
    );
  });
});

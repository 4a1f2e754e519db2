/** What the README says of first sight and of cases left out is what was kept of it. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { inPackage } from "../../src/base/root.js";
import { CROSSED, ranksDigest } from "./crossed.js";
import { type FirstSeen, readRounds } from "./first-sight.js";

const said = readFileSync(inPackage("README.md"), "utf8").replace(/\s+/gu, " ");
const folder = inPackage(join("tests", "cases"));
const rounds = readRounds(folder);
const met = (...files: string[]): FirstSeen[] =>
  files.flatMap((file) => Object.values(rounds.find((r) => r.file === file)?.cases ?? {}));
const leads = (list: FirstSeen[]) => list.filter((c) => c.rank === 1).length;
const three = (list: FirstSeen[]) => list.filter((c) => c.rank <= 3).length;
const right = (list: FirstSeen[], band: string) => {
  const of = list.filter((c) => c.band === band);
  return `${leads(of)} of ${of.length}`;
};
const sure = (list: FirstSeen[]) => list.filter((c) => /^(?:strongly )?supported$/u.test(c.band)).length;

it("of published cases", () => {
  const [one, two, last] = ["round-1.yaml", "round-2.yaml", "round-3.yaml"].map((f) => met(f));
  if (!one || !two || !last) throw new Error("a round is missing");
  expect(said).toContain(`the confirmed disorder led in ${leads(one)} of ${one.length} `);
  expect(said).toContain(`in ${leads(two)} of ${two.length} of a second round`);
  expect(said).toContain(`in ${leads(last)} of ${last.length} seldom pictures of a third`);
  expect(said).toContain(
    `among three in ${three(one)} of ${one.length}, ${three(two)} of ${two.length} and ${three(last)} of ${last.length}`,
  );
});

it("of made-up patients", () => {
  const clinic = met("pictures-fifth.yaml");
  const reports = met("pictures-sixth.yaml", "pictures-seventh.yaml");
  const outside = met("outside-pictures-second.yaml");
  expect(said).toContain(`Of ${clinic.length} told as a clinic notes them`);
  expect(said).toContain(`it led in ${leads(clinic)} (before lessons)`);
  expect(said).toContain(`of ${reports.length} told as published reports tell theirs, in ${leads(reports)};`);
  const traps = met("lessons-g.yaml", "lessons-h.yaml");
  expect(said).toContain(
    `of ${traps.length} more, most of them made to look like a neighbour, in ${leads(traps)}, and there ` +
      `"strongly supported" was right in ${right(traps, "strongly supported")}, "supported" in ${right(traps, "supported")}`,
  );
  const entered = met("lessons-i.yaml");
  expect(said).toContain(
    `Of ${entered.length} with one of the 14 disorders entered last, or looking like one, it led in ${leads(entered)} `,
  );
  expect(said).toContain(
    `of ${outside.length} made-up scalps with a disease outside it ${sure(outside)} were called supported`,
  );
  const others = met("outside-pictures-third.yaml");
  expect(said).toContain(`of ${others.length} others ${sure(others)} were,`);
});

describe("of cases left out", () => {
  const [digest, ...kept] = readFileSync(join(folder, CROSSED), "utf8").split("\n");
  /** What stands behind the name of a figure, `124 of 156 (79 %, 72 to 85)`. */
  const figure = (name: string, more = "") => {
    const line = kept.find((l) => l.startsWith(`  ${name} `)) ?? "";
    const found = new RegExp(`${more}(\\d+) of (\\d+) \\((\\d+) %, (\\d+) to (\\d+)\\)`, "u").exec(line);
    if (!found) throw new Error(`no figure "${name}"`);
    const [, part = "", of = "", percent = "", low = "", high = ""] = found;
    return { of, percent, share: `${part} of ${of}`, interval: `${low} to ${high}` };
  };

  it("the file belongs to the answers of today: else run `npm run evaluate`", () => {
    expect(digest).toBe(ranksDigest(folder));
  });

  it("stands as kept", () => {
    const leads = figure("leads");
    expect(said).toContain(`Each tenth of ${leads.of} published cases`);
    expect(said).toContain(`led by the confirmed disorder in ${leads.percent} % (${leads.interval})`);
    expect(said).toContain(`with three findings or more in ${figure("three findings or more").percent} %`);
    expect(said).toContain(`"strongly supported" is right in ${figure("strongly supported").share}`);
    expect(said).toContain(`"supported" in ${figure("supported", "right in ").share}; of two diseases`);
    expect(said).toContain(`both are named in ${figure("both of two named").share}.`);
    const published = figure("published, and healthy");
    expect(published.share.startsWith("0 of")).toBe(true);
    expect(said).toContain(`of ${published.of} published ones (in view) none;`);
    expect(said).toContain(`another was called supported in ${figure("each disorder taken out").share}.`);
  });
});

it("of dangers told in words nobody here chose", () => {
  const met: {
    visits?: number;
    expectations?: number;
    met_percent: number;
    by_kind?: Record<string, number>;
  }[] = parse(readFileSync(inPackage(join("tests", "hazards", "first-sight.yaml")), "utf8"));
  const sets = met.filter((m) => m.expectations !== undefined);
  const percent = (i: number) => `${Math.round(sets[i]?.met_percent ?? Number.NaN)} %`;
  const of = (i: number) => sets[i]?.expectations;
  expect(said).toContain(`On ${sets[0]?.visits} made-up visits`);
  expect(said).toContain(`${percent(0)} of ${of(0)} expectations were met at first sight`);
  expect(said).toContain(`and ${percent(6)} of ${of(6)} later in the half that stayed out of view`);
  expect(said).toContain(`of ${of(3)} in a later set, told in odd words, ${percent(3)} at first sight`);
  expect(said).toContain(
    `of ${of(4)} in a third, told obliquely or in figures of speech, ${percent(4)}, and ${percent(5)} in its other half`,
  );
  expect(said).toContain(
    `of ${of(7)} in a fourth, ${percent(7)}, and ${percent(8)} of ${of(8)} in its other half`,
  );
  expect(said).toContain(
    `of ${of(9)} in a fifth, heavy with look-alikes, ${percent(9)}, and ${percent(10)} in its other half, ` +
      `where only ${sets[10]?.by_kind?.["look-alike"]} % of the look-alikes stayed quiet`,
  );
  expect(said).toContain(`of ${of(11)} in a sixth, told in the plain shorthand of a clinic, ${percent(11)}.`);
  expect(said).toContain(
    `of ${of(12)} in a seventh, by other writers, ${percent(12)} were met at first sight`,
  );
  expect(said).toContain(
    `of ${of(13)} in an eighth ${percent(13)}, of its look-alikes ${sets[13]?.by_kind?.["look-alike"]} %`,
  );
  expect(said).toContain(
    `of ${of(14)} in a ninth, again heavy with look-alikes, ${percent(14)}, of its look-alikes ${sets[14]?.by_kind?.["look-alike"]} %`,
  );
  expect(said).toContain(
    `of ${of(15)} in a tenth ${percent(15)}, of its look-alikes ${sets[15]?.by_kind?.["look-alike"]} %`,
  );
  expect(sets).toHaveLength(16);
});

it("of single lines, by writers whose lines were left out", () => {
  const { told, near }: Readonly<Record<"told" | "near", { both: number; lists: number }>> = parse(
    readFileSync(inPackage(join("tests", "prose", "told", "figures.yaml")), "utf8"),
  );
  const whole = Math.round;
  expect(said).toContain(
    `the reader finds ${whole(told.both)} % (${whole(told.lists)} % by its lists of wordings alone) and rings on ${whole(near.both)} % of lines`,
  );
});

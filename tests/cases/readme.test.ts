/** What the README says of first sight is what was kept of it. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { type FirstSeen, readRounds } from "./first-sight.js";

const said = readFileSync(inPackage("README.md"), "utf8").replace(/\s+/gu, " ");
const rounds = readRounds(inPackage(join("tests", "cases")));
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

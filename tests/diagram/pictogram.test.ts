import { readdirSync } from "node:fs";
import { expect, it } from "vitest";
import { PICTOGRAM_IDS, pictogram, toneOf } from "../../src/diagram/diagram.js";
import { measure, pathPoints, readSvg } from "./read-svg.js";

const FINDINGS = readdirSync(new URL("../../src/knowledge/findings/", import.meta.url))
  .filter((file) => file.endsWith(".yaml"))
  .map((file) => file.replace(/\.yaml$/, ""));

it("every finding has a drawing of its own", () => {
  expect(FINDINGS.filter((id) => !PICTOGRAM_IDS.includes(id))).toEqual([]);
});

it.each(PICTOGRAM_IDS)("%s is well-formed and keeps inside its round field", (id) => {
  const elements = readSvg(pictogram(id, `Drawing: <${id}> & "more"`)!);
  expect(elements[0]!.attributes).toMatchObject({
    width: "48",
    height: "48",
    viewBox: "0 0 48 48",
    role: "img",
    "aria-label": `Drawing: <${id}> & "more"`,
  });
  for (const element of elements.filter(({ name }) => name === "path")) {
    for (const [x, y] of pathPoints(element.attributes.d ?? "")) {
      // The frame is drawn last and covers a hair's breadth.
      expect(Math.hypot(x - 24, y - 24), `${element.attributes.d?.slice(0, 60)} at ${x},${y}`).toBeLessThan(
        23.8,
      );
    }
  }
  for (const circle of elements.filter(({ name }) => name === "circle"))
    expect(measure(circle, "r")).toBe(22.5);
});

it("no two drawings are alike", () => {
  expect(new Set(PICTOGRAM_IDS.map((id) => pictogram(id))).size).toBe(PICTOGRAM_IDS.length);
});

it("drawings differ in shape, not in colour alone", () => {
  const shapes = PICTOGRAM_IDS.map((id) => pictogram(id)!.replace(/(fill|stroke)="#[0-9a-f]+"/g, ""));
  expect(new Set(shapes).size).toBe(PICTOGRAM_IDS.length);
});

it("a drawing without words is decoration", () => {
  expect(readSvg(pictogram("comma-hairs")!)[0]!.attributes).toMatchObject({ "aria-hidden": "true" });
});

it("a finding without a drawing takes its group's, an unknown one has none", () => {
  for (const group of ["hair shaft", "follicular opening", "skin surface", "vessel"] as const) {
    expect(readSvg(pictogram("moonlit-hairs", "x", group)!).length).toBeGreaterThan(2);
  }
  expect(pictogram("comma-hairs", "x", "vessel")).toBe(pictogram("comma-hairs", "x"));
  expect(pictogram("moonlit-hairs")).toBeUndefined();
  for (const id of ["constructor", "__proto__", "toString"]) expect(pictogram(id)).toBeUndefined();
});

it("skin follows the phototype, and nothing but colour changes with it", () => {
  expect([undefined, "I", "III", "IV", "V", "VI"].map(toneOf)).toEqual([
    "light",
    "light",
    "light",
    "medium",
    "dark",
    "dark",
  ]);
  const bare = (svg: string | undefined) =>
    svg?.replace(/(fill|stroke)="#[0-9a-f]+"|stroke-width="[\d.]+"/g, "");
  for (const id of PICTOGRAM_IDS) {
    const [light, medium, dark] = (["light", "medium", "dark"] as const).map((tone) =>
      pictogram(id, "x", undefined, tone),
    );
    expect(new Set([light, medium, dark]).size, id).toBe(3);
    expect([bare(medium), bare(dark)], id).toEqual([bare(light), bare(light)]);
  }
  expect(pictogram("red-dots", "x")).toBe(pictogram("red-dots", "x", undefined, "light"));
  expect(pictogram("red-dots", "x", undefined, "dark")).toContain('fill="#c99f78"');
});

/** Drawings of pattern hair loss by grade: each step leaves fewer hairs, and where its words say so. */
import { describe, expect, it } from "vitest";
import { gradeDrawing } from "../../src/diagram/diagram.js";
import { loadKnowledge } from "../../src/knowledge/load.js";

const drawn = (id: string, inputs: Record<string, number>) => {
  const svg = gradeDrawing(id, inputs, "how far") ?? "";
  return [...svg.matchAll(/M(-?[\d.]+) (-?[\d.]+)L/gu)].map(([, x, y]) => [Number(x), Number(y)] as const);
};
const near = (hairs: ReturnType<typeof drawn>, x: number, y: number, r: number) =>
  hairs.filter(([hx, hy]) => Math.hypot(hx - x, hy - y) < r).length;

describe("drawings of grades", () => {
  it("leave fewer hairs with every step", () => {
    const ludwig = [1, 2, 3].map((grade) => drawn("ludwig", { grade }).length);
    const stages = [1, 2, 3, 4, 5, 6, 7].map((stage) => drawn("hamilton-norwood", { stage }).length);
    const aForms = [2, 3, 4, 5].map((stage) => drawn("hamilton-norwood", { stage, form: 2 }).length);
    for (const steps of [ludwig, stages, aForms]) expect(steps).toEqual([...steps].sort((a, b) => b - a));
    expect([new Set(ludwig).size, new Set(stages).size, new Set(aForms).size]).toEqual([3, 7, 4]);
  });

  it("keep the front line in every Ludwig grade", () => {
    const front = (grade: number) => near(drawn("ludwig", { grade }), 0, 28, 8);
    expect([front(1), front(2), front(3)]).toEqual(
      Array(3).fill(near(drawn("hamilton-norwood", { stage: 1 }), 0, 28, 8)),
    );
    expect(front(3)).toBeGreaterThan(1);
  });

  it("bare the crown in the vertex form of III and from IV on, and never in an a form", () => {
    const crown = (stage: number, form = 0) => near(drawn("hamilton-norwood", { stage, form }), 0, 146, 20);
    const whole = crown(1);
    expect(whole).toBeGreaterThan(20);
    expect([crown(3), crown(4, 2)]).toEqual([whole, whole]);
    for (const bare of [crown(3, 1), crown(4), crown(7)]) expect(bare).toBeLessThan(whole / 5);
    // The vertex form belongs to III alone.
    expect(crown(2, 1)).toBe(whole);
  });

  it("leave a rim at sides and back in VII", () => {
    const hairs = drawn("hamilton-norwood", { stage: 7 });
    expect(near(hairs, 0, 184, 12)).toBeGreaterThan(2);
    expect(near(hairs, -66, 120, 12)).toBeGreaterThan(2);
  });

  it("are there for each step of the two scales, for no other score, and speak their text", () => {
    const { scores } = loadKnowledge();
    for (const [id, key] of [
      ["ludwig", "grade"],
      ["hamilton-norwood", "stage"],
    ] as const)
      for (const step of Object.keys(scores[id]?.inputs[key]?.choices ?? {}))
        expect(gradeDrawing(id, { [key]: Number(step) }, "x"), `${id} ${step}`).toBeDefined();
    expect(gradeDrawing("sinclair", { grade: 2 }, "x")).toBeUndefined();
    expect(gradeDrawing("ludwig", { grade: 4 }, "x")).toBeUndefined();
    expect(gradeDrawing("hamilton-norwood", {}, "x")).toBeUndefined();
    expect(gradeDrawing("ludwig", { grade: 1 }, "How far")).toContain('role="img" aria-label="How far"');
  });
});

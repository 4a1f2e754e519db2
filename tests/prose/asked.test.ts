/** Questions that were asked and answered no. */
import { describe, expect, it } from "vitest";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { answeredNo } from "../../src/visit/prose/asked.js";
import { readProse } from "../../src/visit/prose/read-prose.js";

const knowledge = loadKnowledge();
const held = (text: string) => answeredNo(text).map(({ start, end }) => text.slice(start, end));
const raised = (text: string) =>
  readProse([{ where: "history.notes", place: "notes", text }], knowledge, { year: 2026, age: 60 })
    .filter((r) => r.state === "present" || r.state === "doubtful")
    .map((r) => r.fact);

describe("what was asked about and answered no", () => {
  it.each([
    "Asked re sore throat, mouth ulcers, bruises: none.",
    "Asked: fever, shivering, spreading swelling? No to each.",
    "Asked: feet burning, belly pain, others ill, poison feared? No x4.",
    "Asked plainly re life not worth living, re self-harm: no, never.",
    'Asked about any mole that changed in size? "No, same as ever."',
    "Scalp clear. Asked: breathless, chest pain, fits. None; dip clear.",
    "Gefragt nach Fieber und Halsweh: nein.",
    "Preguntada por fiebre o llagas: niega.",
  ])("%s", (text) => {
    expect(held(text)).toHaveLength(1);
    expect(raised(text)).toEqual([]);
  });

  it.each([
    ["Asked re self-harm: none today.", "thoughts-of-self-harm"],
    [
      "Asked re sore throat, mouth ulcers, fever: no, but bruises all over since the new tablets.",
      "marrow-signs",
    ],
    ["Asked twice, then told of suicidal thoughts. Never hurt anyone else.", "thoughts-of-self-harm"],
    ["Asked re sleep: fine. Wants to die most nights.", "thoughts-of-self-harm"],
  ])("is not %s", (text, fact) => {
    expect(raised(text)).toContain(fact);
  });

  it.each([
    "Asked about self-harm. No answer, looked away.",
    "Asked, says she wants to end it, husband knows: no.",
    "Asked re mood, then cried and told of tablets put by: none left.",
    "Asked for help with the thoughts of dying. None.",
    "Asked re fever? Yes. Rash? No.",
  ])("holds no answer for a no: %s", (text) => {
    expect(held(text)).toEqual([]);
  });

  it("is told as absent", () => {
    const [read] = readProse(
      [{ where: "history.notes", place: "notes", text: "Asked re self-harm: no." }],
      knowledge,
      { year: 2026 },
    );
    expect(read).toMatchObject({ fact: "thoughts-of-self-harm", state: "absent" });
  });
});

/** A medicine considered, refused, never collected or of another person is not read as taken; one taken after all is. */
import { expect, it } from "vitest";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { readProse } from "../../src/visit/prose/read-prose.js";

const knowledge = loadKnowledge();
const taken = (text: string, fact: string) =>
  readProse([{ where: "here", place: "medicines", text }], knowledge, { year: 2026 })
    .filter((r) => r.fact === fact)
    .map((r) => r.state);

it.each([
  ["Finasteride prescribed, never collected.", "finasteride-medicine", []],
  ["Finasteride prescribed but not started.", "finasteride-medicine", []],
  ["Sertraline was recommended by the clinic.", "antidepressant-medicine", []],
  ["Sertraline was recommended and started in May.", "antidepressant-medicine", ["present"]],
  ["Baricitinib recommended, not yet started.", "jak-inhibitor-medicine", []],
  ["Refused isotretinoin.", "retinoid-medicine", []],
  ["Refused to stop isotretinoin.", "retinoid-medicine", ["present"]],
  ["Ciclosporin contraindicated.", "immune-suppressant-medicine", []],
  ["Mycophenolate 1 g, contraception discussed.", "immune-suppressant-medicine", ["present"]],
  ["Methotrexate, never missed a dose.", "antimetabolite-medicine", ["present"]],
  ["Training partner injects nandrolone.", "androgen-medicine", ["other person"]],
  ["No tablets but a weekly dose of semaglutide.", "weight-loss-medicine", ["present"]],
])("%s", (text, fact, states) => {
  expect(taken(text, fact)).toEqual(states);
});

it("knows a rash after any medicine of the table by its name", () => {
  expect(
    readProse([{ where: "here", place: "notes", text: "Rash since fenofibrate." }], knowledge, {
      year: 2026,
    }).map((r) => r.fact),
  ).toContain("new-medicine-rash");
});

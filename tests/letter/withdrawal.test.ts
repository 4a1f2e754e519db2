import { describe, expect, it } from "vitest";
import { composeWithdrawal } from "../../src/letter/withdrawal.js";
import { renderText } from "../../src/page/text.js";
import { clinic, examples } from "./compose.js";

const [example] = examples;
const visit = example?.visit;
if (!visit) throw new Error("no example");
const said = {
  dated: "2026-03-12",
  sentOn: "2026-03-13",
  reason: "wrong address",
  by: "anneli-thorsby",
  on: "2026-03-20",
};
const school = { name: "Ms Ada Quill", role: "school", copy: true, address: ["Quay School", "Tarn Sound"] };

function notice(language: string, recipient = visit?.sendTo[0]): { text: string; html: string } {
  if (!visit || !recipient) throw new Error("no recipient");
  const { value, problems } = composeWithdrawal({
    visit,
    clinic: { ...clinic, language },
    recipient,
    ...said,
  });
  if (!value) throw new Error(problems.map((p) => p.message).join("; "));
  return { text: renderText(value.letter).replace(/\s+/gu, " "), html: value.letter.html };
}

describe("the notice of a withdrawal", () => {
  it("says which letter no longer holds, when it left, why, and what is asked", () => {
    const { text } = notice("en-GB");
    expect(text).toContain("We withdraw our letter of 12 March 2026. It was about the visit of");
    expect(text).toContain("and left us on 13 March 2026. Please do not act on it any more.");
    expect(text).toContain("Reason: Wrong address.");
    expect(text).toContain("please call us on 01632 960140");
  });

  it.each([
    ["en-US", "March 12, 2026", "Wrong address."],
    ["de", "Wir nehmen unseren Brief vom 12. März 2026 zurück.", "Grund: Wrong address."],
    ["es", "Retiramos nuestra carta del 12 de marzo de 2026", "Motivo: Wrong address."],
  ])("says so in %s", (language, letter, reason) => {
    const { text } = notice(language);
    expect(text).toContain(letter);
    expect(text).toContain(reason);
  });

  it("gives the patient's number to those alone who share in the care, and nothing that was found to anybody", () => {
    const own = notice("en-GB");
    const outside = notice("en-GB", school as NonNullable<typeof visit>["sendTo"][number]);
    expect(own.html).toContain(visit.patient.id);
    expect(outside.html).not.toContain(visit.patient.id);
    for (const { text } of [own, outside])
      for (const { disorder } of visit.impression) expect(text).not.toContain(disorder.replaceAll("-", " "));
  });
});

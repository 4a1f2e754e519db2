/** The register of a clinic -> letters that were made and not sent, and signed visits of which nothing was made. */
import { groupBy } from "../base/group.js";
import { documentsIn } from "../register/documents.js";
import type { MadeLine, RegisterLine, SignedLine } from "../register/line.js";
import { about } from "./about.js";
import type { WorkVisit } from "./visits.js";
import type { WorkLine } from "./work-line.js";

/** Visits of a day before the register began are not looked for in it. */
export function fromRegister(visits: readonly WorkVisit[], register: readonly RegisterLine[]): WorkLine[] {
  const begun = register.find((line) => line.kind === "begun")?.at.slice(0, 10);
  const made = register.filter((line) => line.kind === "made");
  const signed = register.filter((line) => line.kind === "signed");
  const byId = groupBy(visits, (v) => keyOf(v.identity?.patient, v.identity?.visit));
  const at = ({ patient, visit }: MadeLine | SignedLine): WorkVisit =>
    byId.get(keyOf(patient, visit))?.[0] ?? {
      path: "",
      identity: { visit, patient, date: "", given: "", family: "", born: "", sex: "", accepts: [] },
      doubts: [],
    };
  return [...unsent(register, at), ...unmade(visits, made, signed, begun)];
}

const keyOf = (patient: string | undefined, visit: string | undefined) => `${patient}\u0000${visit}`;

/** Letters that the register has as waiting: neither sent, nor withdrawn, nor replaced by another. */
function unsent(register: readonly RegisterLine[], at: (line: MadeLine) => WorkVisit): WorkLine[] {
  return documentsIn(register).flatMap(({ made, state }) => {
    if (state !== "waiting" || !made.addressee) return [];
    return [
      about(at(made), "not-sent", {
        since: made.at.slice(0, 10),
        detail: made.addressee.name,
        edition: made.edition,
        who: "the clinic",
      }),
    ];
  });
}

/** Signed visits, or editions of one, of which the register holds no document. */
function unmade(
  visits: readonly WorkVisit[],
  made: readonly MadeLine[],
  signed: readonly SignedLine[],
  begun: string | undefined,
): WorkLine[] {
  const newest = new Map<string, number>();
  for (const { patient, visit, edition } of made)
    newest.set(keyOf(patient, visit), Math.max(edition, newest.get(keyOf(patient, visit)) ?? 0));
  const registered = groupBy(signed, ({ patient, visit }) => keyOf(patient, visit));
  return visits.flatMap((visit) => {
    const act = visit.extract?.signed;
    if (!act || visit.extract?.changed || !visit.identity) return [];
    const key = keyOf(visit.identity.patient, visit.identity.visit);
    const line = registered.get(key)?.at(-1);
    // A visit signed by hand, or before there was a register, may have gone out long ago.
    const since = (line?.at ?? act.at).slice(0, 10);
    if (!line && (since === "" || begun === undefined || since < begun)) return [];
    const edition = Math.max(act.edition, line?.edition ?? 1);
    if ((newest.get(key) ?? 0) >= edition) return [];
    return [about(visit, "not-made", { since, edition, who: "the clinic" })];
  });
}

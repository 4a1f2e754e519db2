/** Whom the letter reaches: nobody, only copies, someone without an address, or one person twice. */
import { type CheckContext, entries } from "../check-context.js";

export function recipients({ file, report }: CheckContext): void {
  const all = entries(file.send_to);
  if (all.length === 0) {
    report("no-recipient", [], { message: "nobody is named to send the letter to", absent: "send_to" });
  } else if (all.every(([, to]) => to.copy === true)) {
    report("only-copies", [], {
      message: "everybody named only gets a copy",
      key: "send_to",
      expected: "copy: false for the one written to",
    });
  }
  const first = new Map<string, number>();
  for (const [i, { name, address }] of all) {
    const path = ["send_to", i];
    if ((address ?? []).length === 0) {
      report("recipient-without-address", path, {
        message: `${name ?? `recipient ${i + 1}`} has no address`,
        absent: "address",
      });
    }
    if (name === undefined) continue;
    const same = name.toLowerCase();
    const earlier = first.get(same);
    if (earlier === undefined) first.set(same, i);
    else {
      report("recipient-twice", [...path, "name"], {
        message: `${name} is named twice`,
        related: [{ message: "first named here", path: ["send_to", earlier, "name"] }],
      });
    }
  }
  if (file.patient && (file.patient.address ?? []).length === 0) {
    report("patient-without-address", ["patient"], {
      message: "the patient has no address",
      absent: "address",
    });
  }
}

/** Who receives the letter, with those of earlier letters one tap away. */
import type { JSX } from "preact";
import { listAt, textAt } from "./apply.js";
import { Combo } from "./combo.js";
import { Fields } from "./keys.js";
import { Rows } from "./rows.js";
import { useHere } from "./use.js";

export function SendTo(): JSX.Element {
  const { visit, words } = useHere();
  const written = listAt(visit.written, ["send_to"]);
  const named = new Set(written.map((entry) => textAt(entry, ["name"])));
  const known = words.recipients.filter(({ name }) => !named.has(name));
  return (
    <>
      {known.length > 0 && !visit.state.signed ? (
        <Combo
          label="Written to before"
          hint="a few letters of the name, the role or the place"
          entries={known.map(({ role, name, address }, i) => ({
            id: String(i),
            term: name,
            also: [role, ...address, `${role} ${name}`],
          }))}
          place="send_to"
          onTake={({ id }) => {
            const chosen = known[Number(id)];
            if (!chosen) return "";
            const { role, name, address } = chosen;
            visit.put(["send_to", written.length], { role, name, address });
            return "";
          }}
        />
      ) : null}
      <Rows path={["send_to"]} name="recipient" render={(path) => <Fields under="send_to" at={path} />} />
    </>
  );
}

/** Who receives the letter, with those of earlier letters one tap away. */
import type { JSX } from "preact";
import { listAt, textAt } from "./apply.js";
import { Combo } from "./combo.js";
import { Choice, Lines, Text, Tick } from "./fields.js";
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
      <Rows
        path={["send_to"]}
        name="recipient"
        render={(path) => (
          <>
            <Text path={[...path, "name"]} label="Name" hint="with title" />
            <Text
              path={[...path, "role"]}
              label="Role"
              suggestions={["general practitioner", "parent", "school nurse"]}
            />
            <Lines path={[...path, "address"]} label="Address" rows={2} />
            <Tick path={[...path, "copy"]} label="Only gets a copy" />
            <Choice
              path={[...path, "purpose"]}
              label="Reads it for"
              choices={["care", "family", "school", "employer", "insurer"]}
              blank="as the role says"
            />
          </>
        )}
      />
    </>
  );
}

/** Who receives the letter, with those of earlier letters one tap away. */
import type { JSX } from "preact";
import { listAt, textAt } from "./apply.js";
import { Lines, Text, Tick } from "./fields.js";
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
        <p class="known">
          <span class="hint">Written to before:</span>
          {known.slice(0, 8).map(({ role, name, address }) => (
            <button
              key={`${role} ${name}`}
              type="button"
              onClick={() => visit.put(["send_to", written.length], { role, name, address })}
            >
              {name} <span class="hint">{role}</span>
            </button>
          ))}
        </p>
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
          </>
        )}
      />
    </>
  );
}

/** Medicines: a name alone, or a name with how long it was taken, when it was stopped, and what for. */
import type { JSX } from "preact";
import type { KeyPath } from "../../base/yaml-source.js";
import { givenOf } from "../given.js";
import type { Given, Written } from "../messages.js";
import { listAt, textAt, valueAt } from "./apply.js";
import { Lines, Text } from "./fields.js";
import { labelOf } from "./labels.js";
import { Rows } from "./rows.js";
import { useHere } from "./use.js";

export function Medicines({ path }: { readonly path: KeyPath }): JSX.Element {
  const { visit } = useHere();
  // One text in the file counts as a list; it is edited as the lines it is.
  if (textAt(visit.written, path) !== "") return <Lines path={path} label="Medicines" />;
  return (
    <div class="wide medicines">
      <h3>Medicines</h3>
      <Rows
        path={path}
        name="medicine"
        render={(at, index, isNew) => {
          const entry = listAt(visit.written, path)[index];
          const isName = typeof entry === "string" || isNew;
          return (
            <>
              <Text path={isName ? at : [...at, "name"]} {...labelOf("history.medicines.name")} />
              {isNew
                ? null
                : (["since_weeks", "stopped_weeks"] as const).map((key) => (
                    <Text
                      key={key}
                      path={[...at, key]}
                      {...labelOf(`history.medicines.${key}`)}
                      kind="number"
                      write={(text) => visit.put(at, withKey(valueAt(visit.written, at), key, text))}
                    />
                  ))}
              {isNew ? null : (
                <Text
                  path={[...at, "for"]}
                  {...labelOf("history.medicines.for")}
                  write={(text) => visit.put(at, withKey(valueAt(visit.written, at), "for", text))}
                />
              )}
            </>
          );
        }}
      />
    </div>
  );
}

/** A medicine with one more thing said of it; one of which nothing more is said is its name alone. */
export function withKey(entry: Written | undefined, key: string, text: string): Given {
  const before = typeof entry === "string" ? { name: entry } : (givenOf(entry ?? null) ?? {});
  const next = { ...(before as { readonly [key: string]: Given }), [key]: text };
  const said = Object.entries(next).filter(([, value]) => value !== "");
  const [only] = said;
  return said.length === 1 && only?.[0] === "name" ? only[1] : Object.fromEntries(said);
}

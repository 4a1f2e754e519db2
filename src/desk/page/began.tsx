/** When it began: at birth, so many weeks before the visit, or at an age. One of them stands in the file. */
import type { JSX } from "preact";
import { useId, useState } from "preact/hooks";
import { type KeyPath, writePath } from "../../base/yaml-source.js";
import { textAt } from "./apply.js";
import { Said, Text } from "./fields.js";
import { useHere } from "./use.js";

const WAYS = [
  ["when", "at birth"],
  ["weeks_before", "weeks before the visit"],
  ["age_years", "at an age"],
] as const;
type Way = (typeof WAYS)[number][0];

export function Began({ path }: { readonly path: KeyPath }): JSX.Element {
  const { visit } = useHere();
  const id = useId();
  const [wanted, setWanted] = useState<Way | null>(null);
  const written = WAYS.map(([key]) => key).filter((key) => textAt(visit.written, [...path, key]) !== "");
  const way = written[0] ?? wanted;
  const choose = (next: Way | null) => {
    setWanted(next);
    if (next === null) visit.remove(path);
    else if (next === "when") visit.put(path, { when: "birth" });
    else if (written.length > 0) visit.remove(path);
  };
  return (
    <fieldset class="choice began" data-place={writePath(path)} disabled={visit.state.signed}>
      <legend>When it began</legend>
      <div class="segments">
        <label class="blank">
          <input type="radio" name={id} checked={way === null} onChange={() => choose(null)} />
          <span>not asked</span>
        </label>
        {WAYS.map(([key, label]) => (
          <label key={key} data-place={key === "when" ? writePath([...path, key]) : undefined}>
            <input type="radio" name={id} checked={way === key} onChange={() => choose(key)} />
            <span>{label}</span>
          </label>
        ))}
      </div>
      {way === "weeks_before" ? (
        <Text path={[...path, "weeks_before"]} label="Began" hint="weeks before the visit" kind="number" />
      ) : null}
      {way === "age_years" ? (
        <Text path={[...path, "age_years"]} label="Began" hint="age in years" kind="number" />
      ) : null}
      <Said path={path} id={`${id}-said`} />
    </fieldset>
  );
}

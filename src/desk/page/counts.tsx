/** Counted fields of view, shaft diameters, photographs and notes of one site. */
import type { JSX } from "preact";
import { useId, useState } from "preact/hooks";
import { listAt, textAt } from "./apply.js";
import { Said, Text } from "./fields.js";
import { Row } from "./rows.js";
import { useHere } from "./use.js";

const COUNTS = [
  ["hairs", "hairs"],
  ["thin", "thin"],
  ["vellus", "vellus"],
  ["units.1", "units of 1"],
  ["units.2", "of 2"],
  ["units.3", "of 3"],
  ["units.4", "of 4"],
  ["yellow_dots", "yellow dots"],
  ["discoloured_openings", "discoloured openings"],
] as const;

export function Counts({ site }: { readonly site: number }): JSX.Element {
  const { visit } = useHere();
  const fields = listAt(visit.written, ["sites", site, "fields"]);
  const photos = listAt(visit.written, ["sites", site, "photos"]);
  const holds =
    fields.length > 0 ||
    photos.length > 0 ||
    listAt(visit.written, ["sites", site, "diameters_um"]).length > 0;
  return (
    <details class="counts" open={holds}>
      <summary>Counts, diameters, photographs, notes</summary>
      {[...fields, null].map((_, i) => (
        <Row
          key={i}
          path={["sites", site, "fields", i]}
          name={`field of view ${i + 1}`}
          isNew={i === fields.length}
        >
          {COUNTS.map(([key, label]) => (
            <Text
              key={key}
              path={["sites", site, "fields", i, ...key.split(".")]}
              label={label}
              kind="number"
            />
          ))}
        </Row>
      ))}
      <Diameters site={site} />
      {[...photos, null].map((_, i) => (
        <Row
          key={i}
          path={["sites", site, "photos", i]}
          name={`photograph ${i + 1}`}
          isNew={i === photos.length}
        >
          <Text path={["sites", site, "photos", i, "file"]} label="File" hint="beside the visit" />
          <Text path={["sites", site, "photos", i, "caption"]} label="Caption" />
        </Row>
      ))}
      <Text path={["sites", site, "notes"]} label="Notes of this place" rows={2} wide />
    </details>
  );
}

function Diameters({ site }: { readonly site: number }): JSX.Element {
  const { visit } = useHere();
  const id = useId();
  const [typed, setTyped] = useState("");
  const path = ["sites", site, "diameters_um"];
  const stored = listAt(visit.written, path).join(" ") || textAt(visit.written, path);
  const split = (text: string) => text.split(/[\s,;]+/u).filter(Boolean);
  const value = split(typed).join(" ") === stored ? typed : stored;
  return (
    <div class="field wide">
      <label for={id}>
        Shaft diameters <span class="hint">micrometres, with spaces between</span>
      </label>
      <input
        id={id}
        type="text"
        inputMode="decimal"
        value={value}
        data-place={`sites[${site}].diameters_um`}
        readOnly={visit.state.signed}
        onInput={(event) => {
          const text = event.currentTarget.value;
          setTyped(text);
          const list = split(text);
          if (list.length === 0) visit.remove(path);
          else visit.put(path, list);
        }}
      />
      <Said path={path} id={`${id}-said`} />
    </div>
  );
}

/** Counted fields of view, shaft diameters, photographs and notes of one site. */
import type { JSX } from "preact";
import { useId, useState } from "preact/hooks";
import type { KeyPath } from "../../base/yaml-source.js";
import { listAt, textAt } from "./apply.js";
import { Said, Text } from "./fields.js";
import { Fields } from "./keys.js";
import { AddPhoto, MarkPhoto } from "./photo/site-photos.js";
import { Row } from "./rows.js";
import { useHere } from "./use.js";

export function Counts({ site }: { readonly site: number }): JSX.Element {
  const { visit } = useHere();
  const fields = listAt(visit.written, ["sites", site, "fields"]);
  const photos = listAt(visit.written, ["sites", site, "photos"]);
  const names = (list: string) => visit.rowsAt(["sites", site, list]);
  const holds =
    fields.length > 0 ||
    photos.length > 0 ||
    listAt(visit.written, ["sites", site, "diameters_um"]).length > 0;
  return (
    <details class="counts" open={holds}>
      <summary>Counts, diameters, photographs, notes</summary>
      {[...fields, null].map((_, i) => (
        <Row
          key={names("fields")[i]}
          path={["sites", site, "fields", i]}
          name={`field of view ${i + 1}`}
          isNew={i === fields.length}
        >
          <Fields under="sites.fields" at={["sites", site, "fields", i]} without={["units"]} />
          <Units path={["sites", site, "fields", i, "units"]} hairs={[1, 2, 3, 4, 5]} />
          <details class="wide">
            <summary>Units of six hairs and more</summary>
            <div class="grid four">
              <Units path={["sites", site, "fields", i, "units"]} hairs={[6, 7, 8, 9]} />
            </div>
          </details>
        </Row>
      ))}
      <Diameters site={site} />
      {[...photos, null].map((_, i) => (
        <Row
          key={names("photos")[i]}
          path={["sites", site, "photos", i]}
          name={`photograph ${i + 1}`}
          isNew={i === photos.length}
        >
          <Fields under="sites.photos" at={["sites", site, "photos", i]} />
          <MarkPhoto site={site} photo={i} />
        </Row>
      ))}
      <AddPhoto site={site} />
      <Fields under="sites" at={["sites", site]} only={["notes"]} />
    </details>
  );
}

/** Follicular units by the number of hairs in each. */
function Units({ path, hairs }: { readonly path: KeyPath; readonly hairs: readonly number[] }): JSX.Element {
  return (
    <>
      {hairs.map((n) => (
        <Text key={n} path={[...path, String(n)]} label={`Units of ${n}`} kind="number" />
      ))}
    </>
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

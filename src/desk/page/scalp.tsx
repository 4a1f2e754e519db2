/** The examination of the scalp: the map, the places on it, and what was seen at the chosen place. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Region } from "../../visit/visit.js";
import { listAt, textAt } from "./apply.js";
import { Counts } from "./counts.js";
import { Choice, Pick, Text } from "./fields.js";
import { Findings } from "./findings.js";
import { HeadMap } from "./head-map.js";
import { addSite, removeSite } from "./sites.js";
import { useHere } from "./use.js";

export function Scalp(): JSX.Element {
  const { visit, words, site, chooseSite } = useHere();
  const sites = listAt(visit.written, ["sites"]);
  return (
    <>
      <HeadMap />
      <AddPlace />
      {sites.length > 0 ? (
        <div class="site-tabs" role="tablist" aria-label="Places">
          <span class="which unseen">Recording</span>
          {sites.map((entry, i) => (
            <button
              // Named by the place, so that what is under a finger stays that place when another program moves it.
              key={`${textAt(entry, ["site"])} ${sites.slice(0, i).filter((other) => textAt(other, ["site"]) === textAt(entry, ["site"])).length}`}
              type="button"
              role="tab"
              id={`site-${i}`}
              aria-selected={i === site}
              aria-controls="site-panel"
              tabIndex={i === site ? 0 : -1}
              onClick={() => chooseSite(i)}
              onKeyDown={(event) => {
                const step =
                  event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? sites.length - 1 : 0;
                if (step === 0) return;
                const next = (i + step) % sites.length;
                chooseSite(next);
                document.getElementById(`site-${next}`)?.focus();
              }}
            >
              <span class="number">{i + 1}</span> {textAt(entry, ["site"]) || "no region"}
            </button>
          ))}
        </div>
      ) : null}
      {site < sites.length ? (
        <div id="site-panel" role="tabpanel" aria-labelledby={`site-${site}`} class="site">
          <div class="grid">
            <Pick
              path={["sites", site, "site"]}
              label="Region"
              options={words.regions.map(({ id, term }) => [id, term] as const)}
              means={(word) => words.regionOf.find(word)}
            />
            <Text path={["sites", site, "patch", "length_mm"]} label="Patch length" hint="mm" kind="number" />
            <Text path={["sites", site, "patch", "width_mm"]} label="Patch width" hint="mm" kind="number" />
            <Choice
              path={["sites", site, "patch", "margin"]}
              label="Margin"
              choices={["sharp", "blurred"]}
              blank="—"
            />
          </div>
          <Findings site={site} />
          <Counts site={site} />
          <div class="row-end">
            <button
              type="button"
              class="plain"
              disabled={visit.state.signed}
              onClick={() => {
                visit.edit(...removeSite(site));
                chooseSite(Math.max(0, site - 1));
              }}
            >
              Remove place {site + 1}
            </button>
          </div>
        </div>
      ) : null}
    </>
  );
}

/** The same as a tap on the map, for the keyboard and for a picture without a single place. */
function AddPlace(): JSX.Element {
  const { visit, words, chooseSite } = useHere();
  const [region, setRegion] = useState("");
  const count = listAt(visit.written, ["sites"]).length;
  const add = () => {
    if (region === "") return;
    visit.edit(addSite(count, region as Region));
    chooseSite(count);
    setRegion("");
  };
  return (
    <div class="add-place">
      <label for="add-place">Add a place</label>
      <select
        id="add-place"
        value={region}
        data-place="sites"
        disabled={visit.state.signed}
        onChange={(event) => setRegion(event.currentTarget.value)}
        onKeyDown={(event) => {
          if (event.key !== "Enter" || region === "") return;
          event.preventDefault();
          add();
        }}
      >
        <option value="">choose a region</option>
        {words.regions.map(({ id, term }) => (
          <option key={id} value={id}>
            {term}
          </option>
        ))}
      </select>
      <button type="button" onClick={add} disabled={region === "" || visit.state.signed}>
        Add
      </button>
      <span class="hint">or tap the head; drag to give a patch its size</span>
    </div>
  );
}

/** The examination of the scalp: the map, the places on it, and what was seen at the chosen place. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Region } from "../../visit/visit.js";
import { listAt, textAt } from "./apply.js";
import { Counts } from "./counts.js";
import { Findings } from "./findings.js";
import { HeadMap } from "./head-map.js";
import { Fields } from "./keys.js";
import { addSite, removeSite } from "./sites.js";
import { drafts } from "./typed-line.js";
import { useHere } from "./use.js";

/** Keys of a site that have their place in its panel or on the map. */
const PLACED = [
  "site",
  "at",
  "patch",
  "findings",
  "none_of",
  "signs",
  "fields",
  "diameters_um",
  "photos",
  "notes",
];

export function Scalp(): JSX.Element {
  const { visit, site, chooseSite } = useHere();
  const sites = listAt(visit.written, ["sites"]);
  const names = visit.rowsAt(["sites"]);
  return (
    <>
      <HeadMap />
      <AddPlace />
      {sites.length > 0 ? (
        <div class="site-tabs" role="tablist" aria-label="Places">
          <span class="which unseen">Recording</span>
          {sites.map((entry, i) => (
            <button
              // What is under a finger stays that place when another program moves it.
              key={names[i]}
              type="button"
              role="tab"
              id={`site-${i}`}
              aria-selected={i === site}
              aria-controls="site-panel"
              tabIndex={i === Math.max(0, site) ? 0 : -1}
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
      {site < 0 && sites.length > 0 ? <PlaceGone /> : null}
      {site >= 0 ? (
        <div
          key={visit.siteName}
          id="site-panel"
          role="tabpanel"
          aria-labelledby={`site-${site}`}
          class="site"
        >
          <div class="grid">
            <Fields under="sites" at={["sites", site]} only={["site", "patch"]} />
          </div>
          <Findings site={site} />
          <Fields under="sites" at={["sites", site]} only={["signs"]} />
          <Counts site={site} />
          {/* A key of the table that has no place of its own yet. */}
          <Fields under="sites" at={["sites", site]} without={PLACED} />
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
  const { visit, words, chooseSite, announce } = useHere();
  const [region, setRegion] = useState("");
  const count = listAt(visit.written, ["sites"]).length;
  const add = () => {
    if (region === "") return;
    visit.edit(addSite(count, region as Region));
    chooseSite(count);
    setRegion("");
  };
  /** A place where nothing abnormal was seen: what would be likeliest there was looked for and is not there. */
  const addNormal = () => {
    const likely = (visit.state.likely[region] ?? []).filter((id) => !visit.state.usual.includes(id));
    const none_of = likely.flatMap((id) => words.byId.get(id)?.term ?? []);
    visit.edit({ do: "set", path: ["sites", count], value: { site: region, none_of } });
    chooseSite(count);
    announce(`${region}: ${none_of.length} findings looked for and not seen`);
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
      <button
        type="button"
        onClick={addNormal}
        disabled={region === "" || visit.state.signed || (visit.state.likely[region] ?? []).length === 0}
      >
        Add, nothing abnormal seen
      </button>
      <span class="hint">or tap the head; drag to give a patch its size</span>
    </div>
  );
}

/** The place that was being recorded is no longer there; no other one takes its place unasked. */
function PlaceGone(): JSX.Element {
  const { visit } = useHere();
  const line = drafts.get(visit.siteName) ?? "";
  return (
    <p class="notice warning" role="status">
      <span class="mark" aria-hidden="true" />
      The place that you were recording was removed or changed elsewhere. Choose the place to go on with.
      {line === "" ? null : (
        <>
          {" "}
          Typed there and not kept: <q>{line}</q>
        </>
      )}
    </p>
  );
}

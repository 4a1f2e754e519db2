/** The findings that an impression rests on: those that were seen are one touch away, any other a search. */
import type { JSX } from "preact";
import { type KeyPath, writePath } from "../../base/yaml-source.js";
import type { FindingEntry } from "../messages.js";
import { recordedAt } from "./amounts.js";
import { listAt, textsAt } from "./apply.js";
import { Combo } from "./combo.js";
import { Said } from "./fields.js";
import { useHere } from "./use.js";

export function Because({ path }: { readonly path: KeyPath }): JSX.Element {
  const { visit, words } = useHere();
  const listed = textsAt(visit.written, path);
  const chosen = new Set(listed.flatMap((text) => words.findingOf.find(text) ?? []));
  const seen = listAt(visit.written, ["sites"]).flatMap((_, site) =>
    [...recordedAt(visit.written, site, words).values()]
      .filter(({ word }) => word !== "none")
      .map(({ finding }) => finding),
  );
  const shown = [...new Set([...seen, ...chosen])].flatMap((id) => words.byId.get(id) ?? []);
  const toggle = ({ id, term }: FindingEntry) => {
    const others = listed.filter((text) => words.findingOf.find(text) !== id);
    const next = others.length < listed.length ? others : [...listed, term];
    if (next.length === 0) visit.remove(path);
    else visit.put(path, next);
  };
  return (
    <div class="wide because">
      <fieldset class="chips" data-place={writePath(path)} disabled={visit.state.signed}>
        <legend>Findings it rests on</legend>
        {shown.map((finding) => (
          <button
            key={finding.id}
            type="button"
            class="chip"
            aria-pressed={chosen.has(finding.id)}
            onClick={() => toggle(finding)}
          >
            {finding.term}
          </button>
        ))}
        {shown.length === 0 ? <span class="hint">None seen yet.</span> : null}
      </fieldset>
      {visit.state.signed ? null : (
        <Combo
          label="Another finding it rests on"
          entries={words.findings.filter(({ id }) => !chosen.has(id))}
          onTake={(finding) => {
            toggle(finding);
            return "";
          }}
        />
      )}
      <Said path={path} id={`said-${path.join("-")}`} />
    </div>
  );
}

/** The earlier visit beside this one: what was seen where, what was thought, what was planned. */
import type { JSX } from "preact";
import type { FindingSeen, Site, Visit } from "../../visit/visit.js";
import { useHere } from "./use.js";

export function BeforeView(): JSX.Element {
  const { visit } = useHere();
  const earlier = visit.state.earlier.toReversed();
  if (earlier.length === 0) return <p class="empty">No earlier visit of this patient in the folder.</p>;
  return (
    <div class="before">
      {earlier.map((before) => (
        <Earlier key={before.id} before={before} />
      ))}
    </div>
  );
}

function Earlier({ before }: { readonly before: Visit }): JSX.Element {
  const { words } = useHere();
  const disorder = (id: string) => words.disorders.find((d) => d.id === id)?.term ?? id;
  const { extent } = before;
  return (
    <section>
      <h3>
        {before.date} <span class="hint">{before.id}</span>
      </h3>
      <p>{before.reason}</p>
      {before.sites.map((site, i) => (
        <Place key={i} site={site} number={i + 1} />
      ))}
      {before.pullTest.length > 0 ? (
        <p>Pull test: {before.pullTest.map((p) => `${p.site} ${p.cameOut} of ${p.pulled}`).join("; ")}</p>
      ) : null}
      {extent ? (
        <p>
          Extent:{" "}
          {Object.entries(extent)
            .map(([area, percent]) => `${area} ${percent} %`)
            .join(", ")}
        </p>
      ) : null}
      <p>
        Impression:{" "}
        {before.impression.map((i) => `${disorder(i.disorder)} (${i.certainty})`).join("; ") || "none"}
      </p>
      <ul>
        {before.plan.map((line) => (
          <li key={`${line.who} ${line.action}`}>
            <span class="hint">{line.who}</span> {line.action}
          </li>
        ))}
      </ul>
    </section>
  );
}

function Place({ site, number }: { readonly site: Site; readonly number: number }): JSX.Element {
  const { words } = useHere();
  const term = ({ finding }: FindingSeen) => words.byId.get(finding)?.term ?? finding;
  const present = site.findings.filter(({ seen }) => seen.state === "present");
  const absent = site.findings.filter(({ seen }) => seen.state === "absent");
  return (
    <>
      <h4>
        {number} {site.site}
        {site.patch ? (
          <span class="hint">
            {" "}
            {site.patch.lengthMm} × {site.patch.widthMm} mm
          </span>
        ) : null}
      </h4>
      <p>
        {present.map((f) => `${term(f)} ${amount(f)}`).join("; ") || "Nothing seen"}
        {absent.length > 0 ? <span class="hint"> · not seen: {absent.map(term).join(", ")}</span> : null}
      </p>
    </>
  );
}

function amount({ seen }: FindingSeen): string {
  if (seen.state === "absent") return "not seen";
  return seen.count ? `${seen.count.count} in ${seen.count.fields}` : (seen.amount ?? "seen");
}

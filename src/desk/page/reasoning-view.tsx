/** What the findings support, for the clinician only: bands, reasons, what to look at next, what must not be missed. */
import type { JSX } from "preact";
import {
  type DisorderView,
  drawsWord,
  type Interpretation,
  type Reason,
} from "../../interpret/interpretation.js";
import { useHere } from "./use.js";

const MOST_SHOWN = 5;
const MOST_REASONS = 7;

export function ReasoningView(): JSX.Element {
  const { visit, words, goTo } = useHere();
  const { reasoning, settled, problems } = visit.state;
  const term = (id: string) => words.disorders.find((d) => d.id === id)?.term ?? id;
  if (!reasoning)
    return (
      <p class="empty">
        {problems.some(({ severity }) => severity === "error")
          ? "Nothing can be weighed yet: the problems say why. Findings and errors decide what stands here."
          : "The findings are being weighed."}
      </p>
    );
  const raised = reasoning.mustNotMiss.filter(({ answeredByPlan }) => !answeredByPlan);
  const shown = reasoning.disorders
    .filter(({ band }) => band !== "unlikely" && band !== "not assessable")
    .slice(0, MOST_SHOWN);
  return (
    <div class="reasoning" aria-busy={!settled}>
      <p class="own">For the clinician only. It weighs what was recorded and does not diagnose.</p>
      {raised.length > 0 ? (
        <section class="raised">
          <h3>Must not be missed</h3>
          <ul>
            {raised.map(({ id, why }) => (
              <li key={id}>
                <b>{id.replaceAll("-", " ")}</b> {why}
              </li>
            ))}
          </ul>
        </section>
      ) : null}
      <section>
        <h3>Supported by what was recorded</h3>
        {shown.length === 0 ? <p class="empty">No disorder stands out yet.</p> : null}
        {shown.map((view, i) => (
          <Disorder key={view.id} view={view} term={term(view.id)} isOpen={i === 0} />
        ))}
        {reasoning.second ? (
          <p>
            Beside it: <b>{term(reasoning.second.id)}</b>. {reasoning.second.why}
          </p>
        ) : null}
      </section>
      <LookNext reasoning={reasoning} goTo={goTo} />
      <section>
        <h3>Your impression and the evidence</h3>
        <p>
          <b class={`verdict ${reasoning.agreement.verdict}`}>{VERDICTS[reasoning.agreement.verdict]}</b>{" "}
          {reasoning.agreement.why}
        </p>
      </section>
      {reasoning.activity.length > 0 ? (
        <section>
          <h3>Activity</h3>
          {reasoning.activity.map((a) => (
            <p key={a.disorder}>
              {term(a.disorder)}: <b>{a.stage ? `${a.state}, ${a.stage}` : a.state}</b>. {a.says.join(" ")}
            </p>
          ))}
        </section>
      ) : null}
    </div>
  );
}

const VERDICTS: Readonly<Record<Interpretation["agreement"]["verdict"], string>> = {
  agrees: "They agree.",
  partly: "They agree in part.",
  disagrees: "They part ways.",
  "too-little": "Too little was recorded to say.",
  "no-impression": "No impression yet.",
};

function Disorder({
  view,
  term,
  isOpen,
}: {
  readonly view: DisorderView;
  readonly term: string;
  readonly isOpen: boolean;
}): JSX.Element {
  const most = Math.max(1, ...[...view.for, ...view.against].map(({ weight }) => Math.abs(weight)));
  return (
    <details class="disorder" open={isOpen}>
      <summary>
        <span class="term">{term}</span>
        <span class={`band ${view.band.replaceAll(" ", "-")}`}>{view.band}</span>
        <span class="hint">leads in {drawsWord(view.leads)} readings of the published figures</span>
      </summary>
      <Reasons title="For" reasons={view.for} most={most} />
      <Reasons title="Against" reasons={view.against} most={most} />
    </details>
  );
}

interface ReasonsProps {
  readonly title: "For" | "Against";
  readonly reasons: readonly Reason[];
  readonly most: number;
}

function Reasons({ title, reasons, most }: ReasonsProps): JSX.Element | null {
  if (reasons.length === 0) return null;
  return (
    <>
      <h4>{title}</h4>
      <ul class="reasons">
        {reasons.slice(0, MOST_REASONS).map((reason) => (
          <li key={`${reason.kind} ${reason.id} ${reason.site ?? ""} ${reason.says}`}>
            <span class={`bar ${title.toLowerCase()}`} aria-hidden="true">
              <i style={{ width: `${Math.max(4, (Math.abs(reason.weight) / most) * 100)}%` }} />
            </span>
            <span>
              {reason.says}
              {reason.site ? <span class="hint"> {reason.site}</span> : null}
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}

function LookNext({
  reasoning,
  goTo,
}: {
  readonly reasoning: Interpretation;
  readonly goTo: (path: string) => void;
}): JSX.Element | null {
  const { words, site } = useHere();
  if (reasoning.lookNext.length === 0) return null;
  return (
    <section>
      <h3>Look at next</h3>
      <ul class="next">
        {reasoning.lookNext.map(({ lookFor, kind, says }) => {
          const finding = kind === "finding" ? words.byId.get(lookFor) : undefined;
          const name = finding?.term ?? lookFor;
          // The sentence begins with what it speaks of, which stands before it as a link.
          const rest = says.startsWith(name) ? says.slice(name.length).trim() : says;
          return (
            <li key={lookFor}>
              {finding ? (
                <button
                  type="button"
                  class="link"
                  onClick={() => goTo(`sites[${site}].findings.${finding.term}`)}
                >
                  {finding.term}
                </button>
              ) : (
                <b>{name}</b>
              )}{" "}
              {rest}
            </li>
          );
        })}
      </ul>
    </section>
  );
}

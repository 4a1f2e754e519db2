/** Beside the form: letter, handout, reasoning, problems, the visit before. */
import type { JSX } from "preact";
import { type Pane, SHEETS } from "../messages.js";
import { BeforeView } from "./before-view.js";
import { ProblemsView } from "./problems-view.js";
import { ReasoningView } from "./reasoning-view.js";
import { SheetView } from "./sheet-view.js";
import { useHere } from "./use.js";

const TITLES: Readonly<Record<Pane, string>> = {
  letter: "Letter",
  handout: "Handout",
  reasoning: "Reasoning",
  "reasoning-sheet": "Reasoning sheet",
  problems: "Problems",
  progress: "Progress",
  before: "Last visits",
};

export function Side(): JSX.Element {
  const { visit } = useHere();
  const { pane, state } = visit;
  const errors = state.problems.filter(({ severity }) => severity === "error").length;
  const warnings = state.problems.filter(({ severity }) => severity === "warning").length;
  const panes = (Object.keys(TITLES) as Pane[]).filter(
    (p) => (p !== "before" && p !== "progress") || state.earlier.length > 0,
  );
  return (
    <aside class="side" aria-label="Beside the form" aria-busy={!state.settled}>
      <div role="tablist" aria-label="Beside the form" class="pane-tabs">
        {panes.map((name, i) => (
          <button
            key={name}
            type="button"
            role="tab"
            id={`pane-${name}`}
            aria-selected={name === pane}
            aria-controls="pane"
            tabIndex={name === pane ? 0 : -1}
            onClick={() => void visit.show(name)}
            onKeyDown={(event) => {
              const step = event.key === "ArrowRight" ? 1 : event.key === "ArrowLeft" ? panes.length - 1 : 0;
              const next = panes[(i + step) % panes.length];
              if (step === 0 || !next) return;
              void visit.show(next);
              document.getElementById(`pane-${next}`)?.focus();
            }}
          >
            {TITLES[name]}
            {name === "problems" && errors + warnings > 0 ? (
              <span class={`count ${errors > 0 ? "error" : "warning"}`}>
                {errors > 0 ? `${errors} error${errors === 1 ? "" : "s"}` : warnings}
              </span>
            ) : null}
          </button>
        ))}
      </div>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reachable by key */}
      <div role="tabpanel" id="pane" aria-labelledby={`pane-${pane}`} class={`pane ${pane}`} tabIndex={0}>
        {Object.hasOwn(SHEETS, pane) ? (
          <SheetView
            file={state.file}
            sheet={state.sheet?.kind === pane ? state.sheet : null}
            title={TITLES[pane].toLowerCase()}
            goToProblems={() => void visit.show("problems")}
          />
        ) : pane === "reasoning" ? (
          <ReasoningView />
        ) : pane === "problems" ? (
          <ProblemsView />
        ) : (
          <BeforeView />
        )}
      </div>
    </aside>
  );
}

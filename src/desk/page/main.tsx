/** The page: the list of visits, or one visit, as the part of the address after # says. */
import { render } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { ClinicState, ListedVisit, Pane } from "../messages.js";
import { textAt } from "./apply.js";
import { askClinic, askState, askVisits, askWords } from "./ask.js";
import { ClinicPage } from "./clinic-page.js";
import { ListPage } from "./list-page.js";
import { Lock } from "./lock.js";
import { OpenVisit } from "./open-visit.js";
import { findToken } from "./token.js";
import { type Words, withLookup } from "./use.js";
import { VisitPage } from "./visit-page.js";

const FIRST_PANE: Pane = "letter";

type View =
  | { readonly kind: "waiting"; readonly done?: number; readonly of?: number }
  | { readonly kind: "shut"; readonly why: string }
  | { readonly kind: "list"; readonly visits: readonly ListedVisit[]; readonly words: Words }
  | { readonly kind: "clinic"; readonly state: ClinicState }
  | { readonly kind: "visit"; readonly visit: OpenVisit; readonly words: Words };

const NO_ANSWER: View = { kind: "shut", why: "The desk does not answer. Is it still running?" };

function fileInAddress(): string | undefined {
  const found = /^#visit=(.+)$/u.exec(location.hash)?.[1];
  return found === undefined ? undefined : decodeURIComponent(found);
}

/** The words are the same for every visit; only the list needs the newest number and recipients. */
let words: Words | undefined;

const LOOK_AGAIN_MS = 150;

/** Asks until the first look at a big folder is done, and tells how far it is. */
async function lookThrough(tell: (view: View) => void): Promise<readonly ListedVisit[] | undefined> {
  for (;;) {
    const answer = await askVisits();
    if (answer.kind !== "done") return undefined;
    if ("visits" in answer.value) return answer.value.visits;
    tell({ kind: "waiting", ...answer.value });
    await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN_MS));
  }
}

async function look(tell: (view: View) => void): Promise<View> {
  if (location.hash === "#clinic") {
    const answer = await askClinic();
    if (answer.kind === "done") return { kind: "clinic", state: answer.value };
    return answer.kind === "refused" ? { kind: "shut", why: answer.refusal.refused } : NO_ANSWER;
  }
  const file = fileInAddress();
  const visits = file === undefined ? await lookThrough(tell) : [];
  if (!words || file === undefined) {
    const answer = await askWords();
    if (answer.kind !== "done")
      return answer.kind === "refused" ? { kind: "shut", why: answer.refusal.refused } : NO_ANSWER;
    words = withLookup(answer.value);
  }
  const known = words;
  if (file !== undefined) {
    const opened = await askState("open", { file, pane: FIRST_PANE });
    if (opened.kind === "done")
      return { kind: "visit", visit: new OpenVisit(opened.value, FIRST_PANE), words: known };
    return opened.kind === "refused" ? { kind: "shut", why: opened.refusal.refused } : NO_ANSWER;
  }
  return visits ? { kind: "list", visits, words: known } : NO_ANSWER;
}

function App() {
  const [view, setView] = useState<View>({ kind: "waiting" });
  useEffect(() => {
    let open: OpenVisit | undefined;
    const show = async () => {
      if (open && fileInAddress() === open.state.file) return;
      if (open && !(await open.isSaved())) {
        // The visit stays on the page until the desk has taken the last of it.
        location.hash = `visit=${encodeURIComponent(open.state.file)}`;
        return;
      }
      open?.close();
      const next = await look(setView);
      open = next.kind === "visit" ? next.visit : undefined;
      setView(next);
      document.title = titleOf(next);
    };
    addEventListener("hashchange", show);
    void show();
    return () => removeEventListener("hashchange", show);
  }, []);
  if (view.kind === "waiting")
    return (
      <main class="list" aria-busy="true">
        <h1>Opening the desk</h1>
        {view.of ? (
          <p role="status">
            <progress value={view.done} max={view.of} aria-label="Visits looked at" /> Looking at {view.done}{" "}
            of {view.of} visits
          </p>
        ) : null}
      </main>
    );
  if (view.kind === "shut")
    return (
      <main class="list">
        <h1>The desk is shut</h1>
        <p>{view.why}</p>
        <p>
          <a href="#visits">Back to the visits</a>
        </p>
      </main>
    );
  if (view.kind === "clinic") return <ClinicPage state={view.state} />;
  if (view.kind === "list") return <ListPage visits={view.visits} words={view.words} />;
  return <VisitPage key={view.visit.state.file} visit={view.visit} words={view.words} />;
}

/** Names the patient, so that two visits in two tabs are not taken for each other. */
function titleOf(view: View): string {
  if (view.kind === "clinic") return "Clinic - Whorl desk";
  if (view.kind !== "visit") return "Visits - Whorl desk";
  const { written } = view.visit;
  const name = textAt(written, ["patient", "name", "family"]) || "No name";
  const given = textAt(written, ["patient", "name", "given"]);
  const born = textAt(written, ["patient", "born"]);
  return `${name}${given ? `, ${given}` : ""}${born ? `, born ${born}` : ""} - ${textAt(written, ["visit", "date"])}`;
}

const root = document.getElementById("desk");
if (root)
  void findToken().then(() =>
    render(
      <Lock>
        <App />
      </Lock>,
      root,
    ),
  );

/** The page: the list of visits, or one visit, as the part of the address after # says. */
import { render } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { VisitsFound } from "../list-messages.js";
import type { ClinicState, DeskWords, Pane } from "../messages.js";
import { textAt } from "./apply.js";
import { type Answer, askClinic, askList, askState, askWords } from "./ask.js";
import { ClinicPage } from "./clinic-page.js";
import { firstList, ListPage } from "./list-page.js";
import { Lock } from "./lock.js";
import { OpenVisit } from "./open-visit.js";
import { findToken } from "./token.js";
import { type Words, withLookup } from "./use.js";
import { VisitPage } from "./visit-page.js";

const FIRST_PANE: Pane = "letter";

type View =
  | { readonly kind: "waiting"; readonly done?: number; readonly of?: number }
  | { readonly kind: "shut"; readonly why: string }
  | { readonly kind: "list"; readonly found: VisitsFound; readonly words: Words }
  | { readonly kind: "clinic"; readonly state: ClinicState }
  | { readonly kind: "visit"; readonly visit: OpenVisit; readonly words: Words };

const NO_ANSWER: View = { kind: "shut", why: "The desk does not answer. Is it still running?" };

function fileInAddress(): string | undefined {
  const found = /^#visit=(.+)$/u.exec(location.hash)?.[1];
  return found === undefined ? undefined : decodeURIComponent(found);
}

/** The words of the knowledge stay; the newest number and the recipients do not. */
let words: Words | undefined;

const LOOK_AGAIN_MS = 150;

const why = (answer: Exclude<Answer<unknown>, { kind: "done" }>): View =>
  answer.kind === "refused" ? { kind: "shut", why: answer.refusal.refused } : NO_ANSWER;

async function getWords(): Promise<Answer<DeskWords>> {
  const answer = await askWords();
  if (answer.kind === "done") words = withLookup(answer.value);
  return answer;
}

/** Asks until the first look at a big folder is done, and tells how far it is. */
async function lookThrough(tell: (view: View) => void, now: boolean): Promise<VisitsFound | View> {
  for (;;) {
    const answer = await askList(firstList(now));
    if (answer.kind !== "done") return why(answer);
    if ("visits" in answer.value) return answer.value;
    tell({ kind: "waiting", ...answer.value });
    await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN_MS));
  }
}

/** The list as the desk knows it, at once; then as the folder is, where another program may have written in it. */
async function lookAtList(tell: (view: View) => void): Promise<View> {
  const asked = getWords();
  let hasWaited = false;
  const found = await lookThrough((view) => {
    hasWaited = true;
    tell(view);
  }, false);
  if ("kind" in found) return found;
  // The next number and the recipients are known only once the folder is.
  const answer = hasWaited ? await getWords() : words ? undefined : await asked;
  if (!words) return answer && answer.kind !== "done" ? why(answer) : NO_ANSWER;
  // Once the list is drawn: a look at thousands of files takes the time that drawing needs.
  if (!found.isFresh) requestAnimationFrame(() => setTimeout(() => void lookAgain(tell)));
  else
    void asked.then(() => {
      if (words) tell({ kind: "list", found, words });
    });
  return { kind: "list", found, words };
}

async function lookAgain(tell: (view: View) => void): Promise<void> {
  const asked = firstList(true).find;
  let found = await lookThrough(() => undefined, true);
  await getWords();
  // Something else is looked for by now.
  if (firstList(true).find !== asked) found = await lookThrough(() => undefined, false);
  if ("visits" in found && words) tell({ kind: "list", found, words });
}

async function look(tell: (view: View) => void): Promise<View> {
  const file = fileInAddress();
  if (file === undefined && location.hash !== "#clinic") return lookAtList(tell);
  if (location.hash === "#clinic") {
    const answer = await askClinic();
    return answer.kind === "done" ? { kind: "clinic", state: answer.value } : why(answer);
  }
  const asked = words ? undefined : getWords();
  const opened = await askState("form", { file, pane: FIRST_PANE });
  const got = await asked;
  if (!words) return got && got.kind !== "done" ? why(got) : NO_ANSWER;
  if (opened.kind === "done") return { kind: "visit", visit: new OpenVisit(opened.value, FIRST_PANE), words };
  return opened.kind === "conflict" ? NO_ANSWER : why(opened);
}

function App() {
  const [view, setView] = useState<View>({ kind: "waiting" });
  useEffect(() => {
    let open: OpenVisit | undefined;
    let turn = 0;
    const show = async () => {
      if (open && fileInAddress() === open.state.file) return;
      if (open && !(await open.isSaved())) {
        // The visit stays on the page until the desk has taken the last of it.
        location.hash = `visit=${encodeURIComponent(open.state.file)}`;
        return;
      }
      open?.close();
      open = undefined;
      turn += 1;
      const own = turn;
      // What comes late, after something else was opened, is let go.
      const next = await look((newer) => {
        if (own === turn) setView(newer);
      });
      if (own !== turn) {
        if (next.kind === "visit") next.visit.close();
        return;
      }
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
  if (view.kind === "list") return <ListPage first={view.found} words={view.words} />;
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

// A file that was dropped beside its place would take the page's place in the browser, and what was typed last with it.
for (const kind of ["dragover", "drop"] as const)
  addEventListener(kind, (event) => {
    if (event.defaultPrevented) return;
    event.preventDefault();
    if (event.dataTransfer) event.dataTransfer.dropEffect = "none";
  });

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

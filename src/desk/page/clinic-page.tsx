/** The clinic's set-up: letterhead, people and house habits, with a letter of an invented patient beside them as it would print. */
import type { JSX } from "preact";
import { useEffect, useMemo, useState } from "preact/hooks";
import { foldWord } from "../../base/nearest.js";
import type { Problem } from "../../base/problem.js";
import type { ClinicState } from "../messages.js";
import { textAt } from "./apply.js";
import { askClinic, askClinicSave, askClinicTry } from "./ask.js";
import { type ClinicDraft, draftOf, editsOf, linesAt, put, rebased } from "./clinic-draft.js";
import { Line, Saying, Several, Ticked } from "./clinic-fields.js";
import { Logo } from "./clinic-logo.js";
import { Emergency, People } from "./clinic-parts.js";
import { ClinicPreview } from "./clinic-preview.js";
import { Segments } from "./segments.js";

const CHECK_AFTER_MS = 700;
const LANGUAGES = ["en-GB", "en-US", "de-DE", "es-ES"];

/** What was typed and not saved stays for as long as the page does, wherever one goes on it. */
let kept: ClinicDraft | undefined;

export const hasClinicDraft = (): boolean => kept !== undefined && editsOf(kept).length > 0;

export function ClinicPage({ state }: { readonly state: ClinicState }): JSX.Element {
  const [draft, setDraft] = useState<ClinicDraft>(() =>
    kept === undefined ? draftOf(state) : kept.from.hash === state.hash ? kept : rebased(kept, state),
  );
  const [problems, setProblems] = useState<readonly Problem[]>(state.problems);
  const [said, say] = useState("");
  const [inTheWay, setInTheWay] = useState<readonly Problem[]>([]);
  kept = draft;
  const edits = useMemo(() => editsOf(draft), [draft]);
  const name = `${draft.from.hash} ${JSON.stringify(edits)}`;
  useEffect(() => {
    const look = setTimeout(async () => {
      const answer = await askClinicTry(edits);
      if (answer.kind === "done") setProblems(answer.value.problems);
    }, CHECK_AFTER_MS);
    return () => clearTimeout(look);
  }, [name]);
  useEffect(() => {
    const onLeave = (event: BeforeUnloadEvent) => {
      if (hasClinicDraft()) event.preventDefault();
    };
    addEventListener("beforeunload", onLeave);
    return () => removeEventListener("beforeunload", onLeave);
  }, []);
  const change = (next: ClinicDraft) => {
    say("");
    setInTheWay([]);
    setDraft(next);
  };
  const of = (path: string): readonly Problem[] =>
    problems.filter(
      (p) => p.path !== undefined && foldWord(p.path) === foldWord(path) && p.severity !== "note",
    );
  const line = (key: string, label: string, hint?: string, suggestions?: readonly string[]) => (
    <Line
      label={label}
      value={textAt(draft.written, [key])}
      write={(text) => change(put(draft, [key], text))}
      problems={of(key)}
      wide={key === "name"}
      {...(hint ? { hint } : {})}
      {...(suggestions ? { suggestions } : {})}
    />
  );
  const save = async () => {
    const answer = await askClinicSave(draft.from.hash, edits);
    if (answer.kind === "done") {
      setDraft(draftOf(answer.value));
      setProblems(answer.value.problems);
      return say("Saved.");
    }
    if (answer.kind === "refused") {
      setInTheWay(answer.refusal.problems ?? []);
      return say(answer.refusal.refused);
    }
    if (answer.kind === "away") return say("Not saved: the desk does not answer. What you typed stays here.");
    const now = await askClinic();
    if (now.kind === "done") change(rebased(draft, now.value));
    return say(
      "Another program changed the clinic file. Your changes stand on it as it is now: look, and save again.",
    );
  };
  const isAtField = (path: string) =>
    /^(?:name|lines|phone|email|web|logo|paper|language|address_window|confidentiality|people)$/u.test(
      path,
    ) || /^(?:people|emergency)\b/u.test(path);
  const rest = problems.filter((p) => p.severity !== "note" && !isAtField(p.path ?? ""));
  return (
    <>
      <header class="bar">
        <a class="back" href="#visits">
          Visits
        </a>
        <div class="whose">
          <h1>Clinic</h1>
          <p>
            {draft.from.isThere ? "" : "new file "}
            {draft.from.file}
          </p>
        </div>
        <button type="button" class="main" disabled={edits.length === 0} onClick={() => void save()}>
          Save
        </button>
      </header>
      <div class="setup">
        <main id="form">
          <div class="notices" role="status">
            {said ? <p class={`notice${said === "Saved." ? "" : " warning"}`}>{said}</p> : null}
            <Saying problems={inTheWay} id="in-the-way" />
          </div>
          <section class="part" aria-labelledby="letterhead">
            <h2 id="letterhead">Letterhead</h2>
            <div class="grid">
              {line("name", "Name of the clinic")}
              {line("phone", "Telephone")}
              {line("email", "E-mail", "also for drafts")}
              {line("web", "Web address")}
              <Several
                label="Address"
                hint="one a line"
                wide
                lines={linesAt(draft.written, "lines")}
                write={(lines) => change(put(draft, ["lines"], lines))}
                problems={of("lines")}
              />
            </div>
            <Logo
              logo={textAt(draft.written, ["logo"])}
              write={(logo) => change(put(draft, ["logo"], logo))}
              problems={of("logo")}
            />
            {line("confidentiality", "Line at the foot of each page", "left empty: our usual sentence")}
          </section>
          <People draft={draft} change={change} of={of} />
          <section class="part" aria-labelledby="paper">
            <h2 id="paper">Paper and envelope</h2>
            <div class="grid">
              <Segments
                label="Paper"
                value={textAt(draft.written, ["paper"]) || "A4"}
                options={["A4", "Letter"].map((paper) => [paper, paper] as const)}
                choose={(paper) => change(put(draft, ["paper"], paper))}
              />
              {line("language", "Language of letters", "en-GB when left empty", LANGUAGES)}
              <Segments
                label="Window of the envelope"
                value={textAt(draft.written, ["address_window"]) || "none"}
                options={draft.from.windows.map((window) => [window, window] as const)}
                choose={(window) => change(put(draft, ["address_window"], window))}
              />
            </div>
            <Ticked
              label="Fold marks at the edge"
              value={textAt(draft.written, ["fold_marks"])}
              write={(text) => change(put(draft, ["fold_marks"], text))}
            />
            <Ticked
              label="Patients get a copy of the letter unless they decline"
              value={textAt(draft.written, ["copy_to_patient"])}
              write={(text) => change(put(draft, ["copy_to_patient"], text))}
            />
          </section>
          <Emergency draft={draft} change={change} of={of} />
          {rest.length > 0 ? (
            <section class="part" aria-labelledby="more-said">
              <h2 id="more-said">Also to look at</h2>
              <Saying problems={rest} id="rest-said" />
            </section>
          ) : null}
        </main>
        <ClinicPreview
          name={name}
          edits={edits}
          window={textAt(draft.written, ["address_window"]) || "none"}
        />
      </div>
    </>
  );
}

/** One visit: steps at the left, the form, and beside it what comes of it. */
import type { JSX } from "preact";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { foldWord } from "../../base/nearest.js";
import { readPath } from "../../base/yaml-source.js";
import type { VisitState } from "../messages.js";
import { placesThatDiffer } from "../places.js";
import { mapAt, textAt } from "./apply.js";
import { FileActs } from "./file-acts.js";
import { LIKELY } from "./findings.js";
import { Finish } from "./finish.js";
import { LockButton } from "./lock.js";
import { Notices } from "./notices.js";
import type { OpenVisit } from "./open-visit.js";
import { placeName } from "./place-name.js";
import { SECTIONS } from "./sections.js";
import { Side } from "./side.js";
import { type Here, HereContext, useHere, useVisit, type Words } from "./use.js";

export function VisitPage({
  visit,
  words,
}: {
  readonly visit: OpenVisit;
  readonly words: Words;
}): JSX.Element {
  useVisit(visit);
  const { site } = visit;
  const [group, chooseGroup] = useState<string>(LIKELY);
  const [spoken, announce] = useState("");
  const here = useMemo<Here>(() => {
    const chooseSite = (index: number) => visit.chooseSite(index);
    const goTo = (path: string) => {
      const [top, index, part, name] = readPath(path);
      if (top === "sites" && typeof index === "number") {
        chooseSite(index);
        const finding =
          part === "findings" && typeof name === "string" ? words.findingOf.find(name) : undefined;
        const group = finding ? words.byId.get(finding)?.group : undefined;
        if (group) chooseGroup(group);
      }
      // The place may first have to be drawn.
      requestAnimationFrame(() => requestAnimationFrame(() => focusPlace(path)));
    };
    const show = (path: string) => {
      const [top, index] = readPath(path);
      if (top === "sites" && typeof index === "number") chooseSite(index);
      requestAnimationFrame(() => requestAnimationFrame(() => showPlace(path)));
    };
    return { visit, words, site, chooseSite, group, chooseGroup, show, goTo, announce };
  }, [visit, words, site, group]);
  useKeys(visit, here);
  useEffect(() => {
    scrollTo(0, 0);
    // A visit that has just begun is waiting for its first sentence.
    if (!visit.state.signed && textAt(visit.written, ["visit", "reason"]) === "") enterSection("who");
  }, [visit]);
  const signed = visit.state.signed;
  // A form of hundreds of fields is drawn again only when something that stands in it is other than it was.
  const form = useMemo(
    () => (
      <>
        {SECTIONS.map(({ id, title, body: Body }) => (
          <section key={id} id={id} aria-labelledby={`${id}-title`} class="part">
            <h2 id={`${id}-title`} tabIndex={-1}>
              {title}
            </h2>
            {visit.state.written === null ? null : <Body />}
          </section>
        ))}
        <FileActs key={visit.state.file} />
      </>
    ),
    [here, visit.written, JSON.stringify(visit.problems), ...inForm(visit.state)],
  );
  return (
    <HereContext.Provider value={here}>
      <div class="top">
        <Head visit={visit} />
      </div>
      <div class="work">
        <Steps visit={visit} />
        <main id="form" class={signed ? "signed" : ""}>
          <Notices />
          {form}
        </main>
        <Side />
      </div>
      <p class="unseen" role="status" aria-live="polite">
        {spoken}
      </p>
    </HereContext.Provider>
  );
}

/** What the server says that stands in the form: all of it, but for what is told beside it, and the text and its problems as they came. */
function inForm(state: VisitState): readonly unknown[] {
  const { hash, sheet, settled, reasoning, canUndo, canRedo, problems, written, ...told } = state;
  return [written === null, ...Object.values(told)];
}

function Head({ visit }: { readonly visit: OpenVisit }): JSX.Element {
  const here = useHere();
  const name = mapAt(visit.written, ["patient", "name"]);
  const full = [name.title, name.given, name.family].filter(Boolean).join(" ") || "No name yet";
  const saved = {
    saved: "Saved",
    saving: "Saving",
    away: "Not saved",
    shut: "Not saved",
    failing: "Not saved",
    gone: "File gone",
  }[visit.saving];
  const bar = useRef<HTMLElement>(null);
  useEffect(() => {
    const own = bar.current;
    const holder = own?.parentElement;
    if (!own || !holder) return;
    // What stays in view below it stands at its foot, however tall the name makes it. On a small screen the name alone stays, and
    // what holds it has no box of its own.
    const watch = new ResizeObserver(() => {
      const height = holder.getBoundingClientRect().height || own.getBoundingClientRect().height;
      document.documentElement.style.setProperty("--bar", `${height}px`);
    });
    watch.observe(own);
    watch.observe(holder);
    return () => watch.disconnect();
  }, []);
  return (
    <>
      <header class="bar" ref={bar}>
        <a class="back" href="#visits">
          Visits
        </a>
        <div class="whose">
          <h1>{full}</h1>
          <p>
            <span>born {textAt(visit.written, ["patient", "born"]) || "?"}</span> ·{" "}
            <span>{textAt(visit.written, ["patient", "id"])}</span> ·{" "}
            <span>visit {textAt(visit.written, ["visit", "id"])}</span>{" "}
            <span>of {textAt(visit.written, ["visit", "date"])}</span>
          </p>
        </div>
        <span class={`state ${visit.state.signed ? "signed" : "draft"}`}>
          {visit.state.signed ? "Signed" : "Draft"}
        </span>
        <span class={`saved ${visit.saving}`} data-saving={visit.saving} role="status">
          {saved}
        </span>
      </header>
      <div class="deeds">
        <button type="button" class="plain to-side" onClick={goToSide}>
          Letter and reasoning
        </button>
        <div class="steps-back">
          <button
            type="button"
            class="plain"
            disabled={!visit.state.canUndo}
            onClick={() => void stepBack(here, "undo")}
          >
            Undo
          </button>
          <button
            type="button"
            class="plain"
            disabled={!visit.state.canRedo}
            onClick={() => void stepBack(here, "redo")}
          >
            Redo
          </button>
        </div>
        <LockButton />
        <Finish />
      </div>
    </>
  );
}

/** On a small screen the panes stand below the form. */
function goToSide(): void {
  const tab = document.querySelector<HTMLElement>(".pane-tabs [aria-selected='true']");
  tab?.closest(".side")?.scrollIntoView({ block: "start" });
  tab?.focus({ preventScroll: true });
}

function Steps({ visit }: { readonly visit: OpenVisit }): JSX.Element {
  return (
    <nav class="steps" aria-label="Steps of the examination">
      <ol>
        {SECTIONS.map(({ id, title, holds }, i) => {
          const mine = visit.state.problems.filter((p) => holds.includes(String(readPath(p.path ?? "")[0])));
          const errors = mine.filter((p) => p.severity === "error").length;
          const filled = holds.some((key) => visit.written[key] !== undefined);
          return (
            <li key={id}>
              <a
                href={`#${id}`}
                onClick={(event) => {
                  event.preventDefault();
                  const title = document.getElementById(`${id}-title`);
                  title?.scrollIntoView({ block: "start" });
                  title?.focus({ preventScroll: true });
                }}
              >
                <span class={`dot${filled ? " filled" : ""}`} aria-hidden="true" />
                {title}
                <kbd class="keys-hint">Alt {i + 1}</kbd>
                {errors > 0 ? (
                  <span class="count error">
                    {errors} <span class="unseen">error{errors === 1 ? "" : "s"}</span>
                  </span>
                ) : null}
              </a>
            </li>
          );
        })}
      </ol>
    </nav>
  );
}

/** Undo and redo for the whole visit; a field's own would not know what was saved. */
function useKeys(visit: OpenVisit, here: Here): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      // Alt and a figure lead to the section of that number.
      const section = /^Digit[1-9]$/u.test(event.code)
        ? SECTIONS[Number(event.code.slice(5)) - 1]
        : undefined;
      if (event.altKey && !event.ctrlKey && !event.metaKey && section) {
        event.preventDefault();
        enterSection(section.id);
        return;
      }
      if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
      const key = event.key.toLowerCase();
      if (key === "z" && !event.shiftKey) void stepBack(here, "undo");
      else if ((key === "z" && event.shiftKey) || key === "y") void stepBack(here, "redo");
      else if (key !== "s") return;
      event.preventDefault();
    };
    const onLeave = (event: BeforeUnloadEvent) => {
      if (visit.unsaved) event.preventDefault();
    };
    addEventListener("keydown", onKey);
    addEventListener("beforeunload", onLeave);
    return () => {
      removeEventListener("keydown", onKey);
      removeEventListener("beforeunload", onLeave);
    };
  }, [visit, here]);
}

/** Brings a section into view, with the focus in its first field for text. */
function enterSection(id: string): void {
  const section = document.getElementById(id);
  const field = section?.querySelector<HTMLElement>(
    'input[type="text"]:not([readonly]), textarea:not([readonly]), input[role="combobox"]',
  );
  section?.scrollIntoView({ block: "start" });
  (field ?? document.getElementById(`${id}-title`))?.focus({ preventScroll: true });
}

/** Undoes or redoes, and brings what that changed into view; the focus stays where it is. */
async function stepBack({ visit, show, announce }: Here, way: "undo" | "redo"): Promise<void> {
  const before = visit.written;
  await visit[way]();
  const [first] = placesThatDiffer(before, visit.written);
  if (first === undefined) return;
  show(first);
  announce(`${way === "undo" ? "Undone" : "Done again"}: ${placeName(first, visit.written)}`);
}

/** The field of a path, or the nearest field around it. */
function placeOf(path: string): HTMLElement | undefined {
  const wanted = foldWord(path);
  const places = [...document.querySelectorAll<HTMLElement>("#form [data-place]")];
  const depth = (place: HTMLElement) => {
    const own = foldWord(place.dataset.place ?? "");
    return own === wanted
      ? Number.POSITIVE_INFINITY
      : wanted.startsWith(own) && /^[.[]/u.test(wanted.slice(own.length))
        ? own.length
        : 0;
  };
  const best = places.reduce<HTMLElement | undefined>(
    (a, b) => (depth(b) > (a ? depth(a) : 0) ? b : a),
    undefined,
  );
  const section = SECTIONS.find(({ holds }) => holds.includes(String(readPath(path)[0])));
  const target = best ?? document.getElementById(`${section?.id}-title`) ?? undefined;
  target?.closest("details")?.setAttribute("open", "");
  return target;
}

function showPlace(path: string): void {
  const target = placeOf(path);
  target?.scrollIntoView({ block: "center" });
  target?.classList.add("changed");
  setTimeout(() => target?.classList.remove("changed"), 1600);
}

function focusPlace(path: string): void {
  const target = placeOf(path);
  if (!target) return;
  target.scrollIntoView({ block: "center" });
  const field = target.matches("input, select, textarea, button, h2")
    ? target
    : (target.querySelector<HTMLElement>("input, select, textarea, button") ?? target);
  field.focus({ preventScroll: true });
}

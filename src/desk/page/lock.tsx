/**
 * The idle lock: after a chosen time without a hand on it, everything that names a patient is covered, the tab's title too. What was
 * typed stays where it is. The code, where one was chosen, is kept in this page's memory alone.
 */
import type { ComponentChildren, JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { Dialog } from "./dialog.js";

const KEPT = "whorl-desk-lock-minutes";
const MINUTES = [1, 2, 5, 10, 20] as const;
const TITLE = "Locked - Whorl desk";

let code = "";
/** Covers at once; set while the page is shown. */
let coverNow = (): void => undefined;

const minutesKept = (): number => Number(localStorage.getItem(KEPT) ?? "0") || 0;

export function Lock({ children }: { readonly children: ComponentChildren }): JSX.Element {
  const [isCovered, setCovered] = useState(false);
  const last = useRef(Date.now());
  const title = useRef("");
  useEffect(() => {
    const cover = () => {
      if (document.title !== TITLE) title.current = document.title;
      document.title = TITLE;
      setCovered(true);
    };
    coverNow = cover;
    const stir = () => {
      last.current = Date.now();
    };
    const kinds = ["pointerdown", "keydown", "wheel", "touchstart"] as const;
    for (const kind of kinds) addEventListener(kind, stir, { capture: true, passive: true });
    const watch = setInterval(() => {
      const minutes = minutesKept();
      if (minutes > 0 && Date.now() - last.current >= minutes * 60_000) cover();
    }, 500);
    return () => {
      clearInterval(watch);
      for (const kind of kinds) removeEventListener(kind, stir, { capture: true });
    };
  }, []);
  const uncover = () => {
    document.title = title.current;
    last.current = Date.now();
    setCovered(false);
  };
  return (
    <>
      <div class={isCovered ? "covered" : "open-page"} inert={isCovered} aria-hidden={isCovered || undefined}>
        {children}
      </div>
      {isCovered ? <Cover uncover={uncover} /> : null}
    </>
  );
}

/** A dialog over all others, so that none that was open stands above it or keeps it from being answered. */
function Cover({ uncover }: { readonly uncover: () => void }): JSX.Element {
  const [typed, setTyped] = useState("");
  const [wrong, setWrong] = useState(false);
  const own = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    own.current?.showModal();
    document.documentElement.dataset.locked = "";
    return () => {
      delete document.documentElement.dataset.locked;
    };
  }, []);
  return (
    <dialog
      ref={own}
      class="cover"
      aria-labelledby="locked"
      onCancel={(event) => event.preventDefault()}
      // A browser closes it at a second Escape, whatever was said to the first.
      onClose={() => own.current?.showModal()}
    >
      <form
        onSubmit={(event) => {
          event.preventDefault();
          if (typed === code) uncover();
          else setWrong(true);
          setTyped("");
        }}
      >
        <h1 id="locked">The desk is locked</h1>
        <p>Nothing was lost. What was typed stands behind this cover.</p>
        {code === "" ? null : (
          <div class="field">
            <label for="lock-code">Code</label>
            <input
              id="lock-code"
              type="password"
              inputMode="numeric"
              autocomplete="off"
              value={typed}
              onInput={(event) => setTyped(event.currentTarget.value)}
            />
          </div>
        )}
        {wrong ? <p role="alert">That is not the code.</p> : null}
        <button type="submit" class="main">
          Go on
        </button>
      </form>
    </dialog>
  );
}

/** Chooses when, and by what code it opens; covers at once where that is wanted. */
export function LockButton(): JSX.Element {
  const [isOpen, open] = useState(false);
  return (
    <>
      <button type="button" class="plain" onClick={() => open(true)}>
        Lock
      </button>
      {isOpen ? <LockDialog close={() => open(false)} /> : null}
    </>
  );
}

function LockDialog({ close }: { readonly close: () => void }): JSX.Element {
  const [minutes, setMinutes] = useState(minutesKept());
  const [next, setNext] = useState(code);
  const keep = () => {
    localStorage.setItem(KEPT, String(minutes));
    code = next;
    close();
  };
  return (
    <Dialog title="Lock this desk" close={close}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          keep();
        }}
      >
        <div class="field">
          <label for="lock-minutes">Lock by itself</label>
          <select
            id="lock-minutes"
            value={String(minutes)}
            onChange={(event) => setMinutes(Number(event.currentTarget.value))}
          >
            <option value="0">never</option>
            {MINUTES.map((n) => (
              <option key={n} value={String(n)}>
                after {n === 1 ? "one minute" : `${n} minutes`} without a touch
              </option>
            ))}
          </select>
        </div>
        <div class="field">
          <label for="lock-new-code">
            Code that opens it <span class="hint">may be left empty; forgotten when the page is closed</span>
          </label>
          <input
            id="lock-new-code"
            type="password"
            inputMode="numeric"
            autocomplete="new-password"
            value={next}
            onInput={(event) => setNext(event.currentTarget.value)}
          />
        </div>
        <p class="acts">
          <button type="submit" class="main">
            Keep
          </button>
          <button
            type="button"
            onClick={() => {
              keep();
              coverNow();
            }}
          >
            Lock now
          </button>
          <button type="button" onClick={close}>
            Cancel
          </button>
        </p>
      </form>
    </Dialog>
  );
}

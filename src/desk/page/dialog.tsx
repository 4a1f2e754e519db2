/** A dialog of the browser's own kind: it keeps the focus, Escape closes it, and what opened it gets the focus back. */
import type { ComponentChildren, JSX } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";

interface DialogProps {
  readonly title: string;
  readonly close: () => void;
  readonly children: ComponentChildren;
  /** False for a question that needs an answer. */
  readonly mayLeave?: boolean;
  /** True for one that shows much. */
  readonly isWide?: boolean;
  /** What came of the last act; a dialog in which several acts are done ends with it and a way out. */
  readonly said?: string;
}

export function Dialog({
  title,
  close,
  children,
  mayLeave = true,
  isWide = false,
  said,
}: DialogProps): JSX.Element {
  const own = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const opener = document.activeElement;
    own.current?.showModal();
    return () => {
      if (opener instanceof HTMLElement && opener.isConnected) opener.focus();
    };
  }, []);
  return (
    <dialog
      ref={own}
      class={isWide ? "wide" : ""}
      aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault();
        if (mayLeave) close();
      }}
      // A browser closes it at a second Escape, whatever was said to the first.
      onClose={() => {
        if (mayLeave) close();
        else own.current?.showModal();
      }}
    >
      <h2 id={id}>{title}</h2>
      {children}
      {said === undefined ? null : (
        <>
          <p role="status">{said}</p>
          <p class="acts">
            <button type="button" onClick={close}>
              Done
            </button>
          </p>
        </>
      )}
    </dialog>
  );
}

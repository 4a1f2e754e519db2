/** What is done with the marks as a whole: steps back, zoom, and the way out. Stands under the picture, where the thumb is. */
import type { JSX } from "preact";
import type { Kept } from "./kept.js";

interface ActsProps {
  readonly kept: Kept;
  /** Closes the outline that is being drawn; undefined while there is none. */
  readonly closeOutline: (() => void) | undefined;
  readonly back: (undo: boolean) => void;
  readonly showAll: () => void;
  readonly zoom: (by: number) => void;
  readonly close: () => void;
}

export function MarkerActs({ kept, closeOutline, back, showAll, zoom, close }: ActsProps): JSX.Element {
  return (
    <div class="acts whole">
      <button type="button" class="main" onClick={close}>
        Done
      </button>
      {closeOutline ? (
        <button type="button" onClick={closeOutline}>
          Close the outline
        </button>
      ) : null}
      <button type="button" onClick={() => back(true)} disabled={!kept.canUndo}>
        Undo
      </button>
      <button type="button" onClick={() => back(false)} disabled={!kept.canRedo}>
        Redo
      </button>
      <button type="button" aria-label="Zoom in" onClick={() => zoom(1.5)}>
        +
      </button>
      <button type="button" aria-label="Zoom out" onClick={() => zoom(1 / 1.5)}>
        −
      </button>
      <button type="button" onClick={showAll}>
        Show all
      </button>
      <span class="hint" data-marks={kept.saving}>
        {kept.saving === "saved" ? "Saved beside the photo." : "Saving…"}
      </span>
    </div>
  );
}

/** A document page by page, drawn from the very bytes that would be printed; what is on show stays until the next is ready. */
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Problem } from "../../base/problem.js";
import type { Sheet } from "../messages.js";
import { askSheet } from "./ask.js";
import { ProblemLine } from "./problems-view.js";
import type { drawPages } from "./sheets.js";

interface SheetProps {
  readonly file: string;
  readonly sheet: Sheet | null;
  readonly title: string;
  readonly goToProblems: () => void;
}

/** Fetched once, with the first page on show. */
let drawing: Promise<{ readonly drawPages: typeof drawPages }> | undefined;
const LIBRARY = "/sheets.js";
const loadDrawing = () => {
  drawing ??= import(LIBRARY) as NonNullable<typeof drawing>;
  return drawing;
};

export function SheetView({ file, sheet, title, goToProblems }: SheetProps): JSX.Element {
  const room = useRef<HTMLDivElement>(null);
  const newest = useRef("");
  const [width, setWidth] = useState(0);
  const [unprintable, setUnprintable] = useState<readonly Problem[]>([]);
  const [shown, setShown] = useState("");
  const key = sheet?.key ?? null;
  const kind = sheet?.kind;
  const wanted = `${kind} ${key} ${width}`;
  useEffect(() => {
    const holder = room.current;
    if (!holder) return;
    const watch = new ResizeObserver(() => setWidth(Math.round(holder.clientWidth)));
    watch.observe(holder);
    return () => watch.disconnect();
  }, []);
  useEffect(() => {
    newest.current = wanted;
    const holder = room.current;
    if (!holder || key === null || width === 0 || kind === undefined) return;
    const isStale = () => newest.current !== wanted;
    const draw = async () => {
      const [answer, { drawPages }] = await Promise.all([askSheet(file, kind), loadDrawing()]);
      if (isStale()) return;
      setUnprintable(answer.kind === "refused" ? (answer.refusal.problems ?? []) : []);
      if (answer.kind === "done" && (await drawPages(answer.value, holder, width, isStale))) setShown(wanted);
    };
    void draw().catch(() => undefined);
  }, [wanted, file]);
  return (
    <div class="sheet">
      {key === null ? (
        <div class="no-sheet">
          <p>The {title} appears here as soon as nothing stands in its way.</p>
          <button type="button" onClick={goToProblems}>
            See what is missing
          </button>
        </div>
      ) : sheet?.stale ? (
        <p class="stale">
          <span class="mark" aria-hidden="true" />
          Shown as it was before the last error.{" "}
          <button type="button" class="plain" onClick={goToProblems}>
            See the error
          </button>
        </p>
      ) : null}
      {unprintable.length > 0 ? (
        <ul class="problems unprintable" aria-label="What cannot be printed">
          {unprintable.map((problem) => (
            <ProblemLine key={`${problem.id} ${problem.message}`} problem={problem} />
          ))}
        </ul>
      ) : null}
      <div ref={room} class="pages" data-shown={shown} data-wanted={wanted} hidden={key === null} />
    </div>
  );
}

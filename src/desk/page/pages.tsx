/** Pages of a PDF on show, drawn from its own bytes; what is on show stays until the next is ready. */
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Refusal } from "../messages.js";
import type { Answer } from "./ask.js";
import type { drawPages } from "./sheets.js";

interface PagesProps {
  /** Names what is to be shown; null while there is nothing. */
  readonly name: string | null;
  readonly ask: () => Promise<Answer<Uint8Array>>;
  /** Told why there are no pages; null once there are. */
  readonly refused: (refusal: Refusal | null) => void;
}

/** Fetched once, with the first page on show. */
let drawing: Promise<{ readonly drawPages: typeof drawPages }> | undefined;
const LIBRARY = "/sheets.js";
const loadDrawing = () => {
  drawing ??= import(LIBRARY) as NonNullable<typeof drawing>;
  return drawing;
};

export function Pages({ name, ask, refused }: PagesProps): JSX.Element {
  const room = useRef<HTMLDivElement>(null);
  const newest = useRef("");
  const [width, setWidth] = useState(0);
  const [shown, setShown] = useState("");
  const wanted = `${name} ${width}`;
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
    if (!holder || name === null || width === 0) return;
    const isStale = () => newest.current !== wanted;
    const draw = async () => {
      const [answer, { drawPages }] = await Promise.all([ask(), loadDrawing()]);
      if (isStale()) return;
      refused(answer.kind === "refused" ? answer.refusal : null);
      if (answer.kind === "done" && (await drawPages(answer.value, holder, width, isStale))) setShown(wanted);
    };
    void draw().catch(() => undefined);
  }, [wanted]);
  return <div ref={room} class="pages" data-shown={shown} data-wanted={wanted} hidden={name === null} />;
}

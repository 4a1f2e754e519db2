/** The document as it will print, on a sheet that runs no script; only what changed is laid anew, so nothing jumps. */
import type { JSX } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Sheet } from "../messages.js";

/** Width of the document's own page, in pixels. */
const PAGE_PX = 760;

interface SheetProps {
  readonly sheet: Sheet | null;
  readonly title: string;
  readonly goToProblems: () => void;
}

export function SheetView({ sheet, title, goToProblems }: SheetProps): JSX.Element {
  const frame = useRef<HTMLIFrameElement>(null);
  const room = useRef<HTMLDivElement>(null);
  const [ready, setReady] = useState(false);
  const [scale, setScale] = useState(0.7);
  const html = sheet?.html ?? null;
  useEffect(() => {
    const page = frame.current?.contentDocument;
    if (ready && html !== null && page) lay(page, html);
  }, [ready, html]);
  useEffect(() => {
    const holder = room.current;
    if (!holder) return;
    const watch = new ResizeObserver(() => setScale(Math.min(1.15, holder.clientWidth / PAGE_PX)));
    watch.observe(holder);
    return () => watch.disconnect();
  }, []);
  return (
    <div class="sheet">
      {html === null ? (
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
      <div ref={room} class="paper" hidden={html === null}>
        <iframe
          ref={frame}
          title={title}
          src="/sheet"
          sandbox="allow-same-origin"
          style={{ width: `${PAGE_PX}px`, height: `${100 / scale}%`, transform: `scale(${scale})` }}
          onLoad={() => setReady(true)}
        />
      </div>
    </div>
  );
}

/** The typeface of the PDF, served by the desk, whatever the computer has. */
const FACES = `@font-face { font-family: "Noto Sans"; src: url("/regular.ttf"); font-weight: 400; }
@font-face { font-family: "Noto Sans"; src: url("/bold.ttf"); font-weight: 600 700; }
`;

/** Lays a page on the sheet, keeping every block that is the same and the place it was scrolled to. */
function lay(page: Document, html: string): void {
  // The sheet's own parser: the desk's policy forbids the styles that a document brings along.
  const own = page.defaultView as (Window & typeof globalThis) | null;
  if (!own) return;
  const next = new own.DOMParser().parseFromString(html, "text/html");
  page.documentElement.lang = next.documentElement.lang;
  const style = `${FACES}${next.querySelector("style")?.textContent ?? ""}`;
  const look = page.querySelector("style") ?? page.head.appendChild(page.createElement("style"));
  if (look.textContent !== style) look.textContent = style;
  match(page.body, next.body, 2);
}

function match(old: Element, next: Element, depth: number): void {
  const from = [...next.childNodes];
  const to = [...old.childNodes];
  from.forEach((node, i) => {
    const there = to[i];
    if (!there) old.append(old.ownerDocument.importNode(node, true));
    else if (there.isEqualNode(node)) return;
    else if (depth > 0 && isSameTag(there, node)) match(there as Element, node as Element, depth - 1);
    else old.replaceChild(old.ownerDocument.importNode(node, true), there);
  });
  for (const rest of to.slice(from.length)) rest.remove();
}

function isSameTag(a: Node, b: Node): boolean {
  // Nodes of another document are no instances of this one's classes.
  const elements = a.nodeType === Node.ELEMENT_NODE && b.nodeType === Node.ELEMENT_NODE;
  return elements && a.nodeName !== "svg" && a.cloneNode(false).isEqualNode(b.cloneNode(false));
}

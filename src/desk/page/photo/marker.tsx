/** The marking of one photo, over the whole page. A bundle of its own, fetched when a photo is first opened. */

import type { JSX } from "preact";
import { render } from "preact";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { areaOf } from "../../../picture/count.js";
import type { SuggestedHair, Suggestions } from "../../../picture/eye/suggest.js";
import type { HairClass, Marks, Point } from "../../../picture/marks.js";
import { HAIRS } from "../../../picture/marks.js";
import type { MarksAgreed } from "../../messages.js";
import * as edit from "./edit-marks.js";
import type { EyeAnswer, EyeAsked } from "./eye-worker.js";
import { useHands } from "./hands.js";
import { Kept, type MarkerOptions } from "./kept.js";
import { Layer } from "./layer.js";
import { EyeSays, Live } from "./live.js";
import { MarkerActs } from "./marker-acts.js";
import { OtherMarks } from "./other-marks.js";
import { type Tool, Tools } from "./tools.js";
import { broughtIn, fitted, type Size, toPicture, type View, zoomed } from "./view.js";

export type { MarkerOptions } from "./kept.js";

/** Opens the marking in `host`; it removes itself when it is done. */
export async function openMarker(host: HTMLElement, options: MarkerOptions): Promise<void> {
  const [picture, kept] = await Promise.all([pictureOf(options), Kept.open(options)]);
  render(
    <Marker
      options={options}
      picture={picture}
      kept={kept}
      close={async () => {
        await kept.settled();
        render(null, host);
        options.closed();
      }}
    />,
    host,
  );
}

async function pictureOf({ send, file, photo }: MarkerOptions): Promise<ImageBitmap> {
  const response = await send("photo", { file, photo });
  if (!response.ok) throw new Error("The photo is not there, or is no readable JPEG or PNG.");
  return createImageBitmap(await response.blob(), { imageOrientation: "from-image" });
}

/** Steps of the keyboard's cross, in screen pixels. */
const STEP = 10;

interface MarkerProps {
  readonly options: MarkerOptions;
  readonly picture: ImageBitmap;
  readonly kept: Kept;
  readonly close: () => Promise<void>;
}

function Marker({ options, picture, kept, close }: MarkerProps): JSX.Element {
  const [, draw] = useState(0);
  useEffect(() => kept.subscribe(() => draw((n) => n + 1)), [kept]);
  const dialog = useRef<HTMLDialogElement>(null);
  const stage = useRef<HTMLDivElement>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const [room, setRoom] = useState<Size>({ width: 0, height: 0 });
  const [view, setView] = useState<View | null>(null);
  const [tool, setTool] = useState<Tool>("hair");
  const [kind, setKind] = useState<HairClass>("terminal");
  const [finding, setFinding] = useState(options.findings[0]?.id ?? "");
  const [lengthMm, setLength] = useState(options.fieldMm ?? 1);
  // Quicker than drawing, as the marks are.
  const held = useRef<{ pending: readonly Point[]; cursor: Point | null }>({ pending: [], cursor: null });
  const { pending, cursor } = held.current;
  const setPending = (points: readonly Point[]) => {
    held.current = { ...held.current, pending: points };
    draw((n) => n + 1);
  };
  const setCursor = (at: Point) => {
    held.current = { ...held.current, cursor: at };
    draw((n) => n + 1);
  };
  /** From where to where a mark is being carried. */
  const [carried, setCarried] = useState<readonly [from: Point, to: Point] | null>(null);
  const [seen, setSeen] = useState<Suggestions | null>(null);
  const [eye, setEye] = useState<"" | "looking" | string>("");
  const [said, say] = useState("");
  const [differ, setDiffer] = useState<MarksAgreed | null>(null);
  const { marks } = kept;
  const least = Math.min(1, fitted(picture, room).zoom || 1);
  const reach = 22 / (view?.zoom ?? 1);
  const suggested = useMemo(() => edit.open(marks, seen?.hairs ?? [], 8), [marks, seen]);

  useEffect(() => {
    dialog.current?.showModal();
    stage.current?.focus();
    const holder = stage.current;
    if (!holder) return;
    const watch = new ResizeObserver(() =>
      setRoom({ width: holder.clientWidth, height: holder.clientHeight }),
    );
    watch.observe(holder);
    return () => watch.disconnect();
  }, []);
  useEffect(() => {
    canvas.current?.getContext("2d")?.drawImage(picture, 0, 0);
  }, [picture]);
  useEffect(() => {
    // Once shown, the picture stays where the hand has it.
    if (room.width > 0) setView((before) => before ?? fitted(picture, room));
  }, [room, picture]);
  const shown = view ?? fitted(picture, room);
  if (canvas.current) {
    canvas.current.style.transform = `translate(${shown.left}px, ${shown.top}px) scale(${shown.zoom})`;
  }

  // Hands are quicker than drawing: every change is made on the newest marks, never on those last drawn.
  const back = (undo: boolean) => {
    if (undo ? !kept.canUndo : !kept.canRedo) return;
    if (undo) kept.undo();
    else kept.redo();
    say(undo ? "Undone" : "Done again");
  };
  const change = (next: Marks, what: string) => {
    if (next === kept.marks) return;
    kept.change(next);
    say(what);
  };
  const two = (from: Point, to: Point) => {
    if (tool === "width") change(edit.addWidth(kept.marks, from, to), "Width marked");
    else if (tool === "scale")
      change(edit.addScaleLine(kept.marks, from, to, lengthMm), `Scale line of ${lengthMm} mm`);
    else if (tool === "field")
      change(edit.setField(kept.marks, from, to, lengthMm), `Field of ${lengthMm} mm`);
    else if (tool === "area")
      change(
        edit.setArea(kept.marks, {
          kind: "rectangle",
          from: edit.placed(kept.marks, from),
          to: edit.placed(kept.marks, to),
        }),
        "Area set",
      );
  };
  /** What was accepted once is no suggestion any more, even when its mark is taken off again. */
  const settle = (some: readonly SuggestedHair[]) =>
    setSeen((seen) => seen && { ...seen, hairs: seen.hairs.filter((hair) => !some.includes(hair)) });
  const place = (at: Point, together = false) => {
    if (options.signed) return;
    const near = suggested.find((hair) => Math.hypot(hair.at[0] - at[0], hair.at[1] - at[1]) < reach);
    if (tool === "hair" && near) {
      settle([near]);
      return change(edit.accept(kept.marks, [near]), "Suggestion accepted");
    }
    // A tap on its other end says that the hair leaves the skin there.
    const turned = suggested.find((hair) => Math.hypot(hair.tip[0] - at[0], hair.tip[1] - at[1]) < reach / 2);
    if (tool === "hair" && turned) {
      settle([turned]);
      return change(edit.accept(kept.marks, [edit.turned(turned)]), "Suggestion accepted at its other end");
    }
    if (tool === "hair")
      return change(
        edit.addHair(kept.marks, at, kind, together),
        `${kind} hair, ${kept.marks.hairs.length + 1} in all`,
      );
    if (tool === "unit")
      return change(edit.addHair(kept.marks, at, kind, true), `${kind} hair of the same unit`);
    if (tool === "dot") return change(edit.addDot(kept.marks, at, finding), "Dot marked");
    if (tool === "arrow") return change(edit.addArrow(kept.marks, at, finding), "Finding pointed at");
    if (tool === "remove") return remove(at);
    if (tool === "patch" || tool === "outline") return setPending([...held.current.pending, at]);
    const first = held.current.pending[0];
    if (tool === "move" && !first && !edit.nearest(kept.marks, at, reach)) return;
    if (!first) return setPending([at]);
    setPending([]);
    if (tool === "move") return change(edit.moveNearest(kept.marks, first, at, reach), "Mark moved");
    two(first, at);
  };
  const remove = (at: Point) => {
    const near = suggested.find((hair) => Math.hypot(hair.at[0] - at[0], hair.at[1] - at[1]) < reach);
    const next = edit.removeNearest(kept.marks, at, reach);
    if (next !== kept.marks) change(next, "Mark removed");
    else if (near) settle([near]);
  };
  const closeOutline = () => {
    const outline = pending.map((point) => edit.placed(kept.marks, point));
    if (outline.length >= 3 && tool === "outline")
      change(edit.setArea(kept.marks, { kind: "polygon", corners: outline }), "Area set");
    else if (outline.length >= 3)
      change({ ...kept.marks, patches: [...kept.marks.patches, { outline }] }, "Patch outlined");
    setPending([]);
  };
  const hands = useHands(stage, shown, least, setView, (at) => place(at), {
    takes: (at) => tool === "move" && !options.signed && edit.nearest(kept.marks, at, reach) !== undefined,
    over: setCarried,
    drops: (from, to) => {
      setPending([]);
      change(edit.moveNearest(kept.marks, from, to, reach), "Mark moved");
    },
  });
  const look = () => {
    setEye("looking");
    const whole = new OffscreenCanvas(picture.width, picture.height).getContext("2d");
    if (!whole) return;
    whole.drawImage(picture, 0, 0);
    const { width, height, data } = whole.getImageData(0, 0, picture.width, picture.height);
    const worker = new Worker("/eye-worker.js", { type: "module" });
    worker.onmessage = ({ data: { suggestions, ms } }: MessageEvent<EyeAnswer>) => {
      worker.terminate();
      setSeen(suggestions);
      const found = edit.open(marks, suggestions.hairs, 8).length;
      setEye(`${found} suggestions in ${(ms / 1000).toFixed(1)} s`);
      if (suggestions.blurPx !== undefined)
        kept.note({ ...kept.marks, blurPx: Math.round(suggestions.blurPx * 100) / 100 });
    };
    worker.onerror = () => {
      worker.terminate();
      setEye("The helping eye failed on this picture.");
    };
    const asked: EyeAsked = { picture: { width, height, data }, area: areaOf(marks) };
    worker.postMessage(asked, [data.buffer]);
  };
  const acceptAll = () => {
    const some: readonly SuggestedHair[] = edit.open(kept.marks, suggested, 8);
    settle(some);
    change(edit.accept(kept.marks, some), `${some.length} suggestions accepted`);
  };
  const onKey = (event: KeyboardEvent) => {
    const ways: Readonly<Record<string, Point>> = {
      ArrowLeft: [-1, 0],
      ArrowRight: [1, 0],
      ArrowUp: [0, -1],
      ArrowDown: [0, 1],
    };
    const way = ways[event.key];
    const here: Point = held.current.cursor ?? toPicture(shown, [room.width / 2, room.height / 2]);
    if (way) {
      const by = (event.shiftKey ? 1 : STEP) / shown.zoom;
      const next = edit.placed(kept.marks, [here[0] + way[0] * by, here[1] + way[1] * by]);
      setCursor(next);
      setView(broughtIn(shown, next, room));
    } else if (event.key === "Enter" || event.key === " ") place(here, event.shiftKey);
    else if (event.key === "Delete" || event.key === "Backspace") remove(here);
    else if (event.key === "+" || event.key === "=")
      setView(zoomed(shown, 1.4, [room.width / 2, room.height / 2], least));
    else if (event.key === "-") setView(zoomed(shown, 1 / 1.4, [room.width / 2, room.height / 2], least));
    else if (event.key === "0") setView(fitted(picture, room));
    else if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z") back(!event.shiftKey);
    else return;
    event.preventDefault();
  };
  return (
    <dialog
      ref={dialog}
      class="marker"
      aria-label={`Marks on ${options.photo}`}
      onCancel={(event) => {
        event.preventDefault();
        if (pending.length > 0) setPending([]);
        else void close();
      }}
      // A browser closes it at a second Escape, whatever was said to the first.
      onClose={() => void close()}
    >
      <p class="whose">{options.whose}</p>
      <Tools
        tool={tool}
        choose={(next) => {
          setTool(next);
          setPending([]);
        }}
        kind={kind}
        chooseKind={setKind}
        findings={options.findings}
        finding={finding}
        chooseFinding={setFinding}
        lengthMm={lengthMm}
        setLength={setLength}
        signed={options.signed}
      />
      <div
        ref={stage}
        class="stage"
        role="application"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: the cross is moved by keys
        tabIndex={0}
        aria-label="Photo. Arrow keys move the cross, with Shift a little; Enter places a mark, with Shift of the same unit; Delete takes the nearest off; plus and minus zoom, 0 shows all; Control Z undoes."
        onKeyDown={onKey}
        {...hands}
      >
        <canvas ref={canvas} width={picture.width} height={picture.height} />
        <Layer
          marks={carried ? edit.moveNearest(marks, ...carried, reach) : marks}
          suggested={suggested}
          view={shown}
          width={room.width}
          cursor={cursor}
          pending={pending}
          differ={differ}
        />
      </div>
      <aside>
        <MarkerActs
          kept={kept}
          closeOutline={pending.length > 2 ? closeOutline : undefined}
          back={back}
          showAll={() => setView(fitted(picture, room))}
          zoom={(by) => setView(zoomed(shown, by, [room.width / 2, room.height / 2], least))}
          close={() => void close()}
        />
        <p role="status" class="said">
          {said}
        </p>
        {kept.trouble ? (
          <div role="alert" class="poor">
            <p>{kept.trouble}</p>
            {kept.isConflict ? (
              <p class="acts">
                <button type="button" onClick={() => kept.takeTheirs()}>
                  Take theirs
                </button>
                <button type="button" onClick={() => kept.keepMine()}>
                  Keep mine
                </button>
              </p>
            ) : null}
          </div>
        ) : null}
        <Live marks={marks} />
        <label class="tick">
          <input
            type="checkbox"
            checked={edit.isCounted(marks, HAIRS)}
            disabled={options.signed}
            onChange={(event) => change(edit.setCounted(kept.marks, HAIRS, event.currentTarget.checked), "")}
          />{" "}
          All hairs in the area are marked
        </label>
        {marks.dots.length > 0 || tool === "dot" ? (
          <label class="tick">
            <input
              type="checkbox"
              checked={edit.isCounted(marks, finding)}
              disabled={options.signed}
              onChange={(event) =>
                change(edit.setCounted(kept.marks, finding, event.currentTarget.checked), "")
              }
            />{" "}
            All {finding.replaceAll("-", " ")} in the area are marked
          </label>
        ) : null}
        <OtherMarks options={options} kept={kept} differ={differ} show={setDiffer} />
        <h3>Helping eye</h3>
        <p class="acts">
          <button type="button" onClick={look} disabled={options.signed || eye === "looking"}>
            Suggest hairs
          </button>
          <button type="button" onClick={acceptAll} disabled={options.signed || suggested.length === 0}>
            Accept all {suggested.length}
          </button>
        </p>
        <p role="status">{eye === "looking" ? "Looking…" : eye}</p>
        {seen ? <EyeSays warnings={seen.warnings} /> : null}
      </aside>
    </dialog>
  );
}

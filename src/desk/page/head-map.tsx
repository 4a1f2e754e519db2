/** The head to be tapped: a tap places a site, a drag from there gives a round patch its size, handles and keys do the rest. */
import type { JSX } from "preact";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import type { mapCurve, Point } from "../../diagram/curve.js";
import { curvePath } from "../../diagram/svg.js";
import type { Region } from "../../visit/visit.js";
import { Pin, type Size } from "./map-pin.js";
import { MAP, type PlacedView, placeIn, pointsOf, under } from "./map-places.js";
import { addSite, moveSite, removeSite, type SiteRow, sitesOf, sizeSite } from "./sites.js";
import { useHere } from "./use.js";

const CAPTIONS = {
  left: "patient's left side",
  above: "from above",
  right: "patient's right side",
  front: "face",
  behind: "from behind",
} as const;

/** Less than this is a tap, in millimetres of the head. */
const DRAG_FROM = 3;
/** No patch is longer than a head is wide; a swipe over the map says nothing of a patch. */
const LONGEST = 180;
const clamp = (mm: number): number => Math.min(LONGEST, Math.max(2, Math.round(mm)));

export type Gesture =
  | { readonly kind: "new"; readonly from: Point; readonly to: Point }
  | { readonly kind: "move" | "length" | "width"; readonly name: string; readonly to: Point };

export function HeadMap(): JSX.Element {
  const { visit, words, site, chooseSite, announce } = useHere();
  const drawing = useRef<SVGSVGElement>(null);
  const [gesture, setGesture] = useState<Gesture | null>(null);
  const sites = sitesOf(visit.written, words);
  // A gesture holds on to its place by name: another program may move it in the list before the finger lets go.
  const names = visit.rowsAt(["sites"]);
  const shown = sites.map((row, i) => withGesture(row, names[i], gesture));
  const points = pointsOf(shown.map(({ place }) => place));
  const [perPixel, setPerPixel] = useState(1);
  useEffect(() => {
    const svg = drawing.current;
    if (!svg) return;
    const watch = new ResizeObserver(() => setPerPixel(MAP.width / Math.max(1, svg.clientWidth)));
    watch.observe(svg);
    return () => watch.disconnect();
  }, []);
  const heads = useMemo(() => MAP.views.map((view) => <Head key={view.head.view} view={view} />), []);
  const pointOf = (event: PointerEvent): Point => {
    const matrix = drawing.current?.getScreenCTM()?.inverse();
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix);
    return [at.x, at.y];
  };
  const begin = (event: PointerEvent, make: (at: Point) => Gesture) => {
    if (visit.state.signed || event.button !== 0) return;
    event.preventDefault();
    drawing.current?.setPointerCapture(event.pointerId);
    setGesture(make(pointOf(event)));
  };
  const end = () => {
    if (!gesture) return;
    setGesture(null);
    if (gesture.kind === "new") {
      const tapped = under(gesture.from);
      if (!tapped) return;
      const radius = Math.hypot(gesture.to[0] - gesture.from[0], gesture.to[1] - gesture.from[1]);
      const size = clamp(2 * radius);
      visit.edit(
        addSite(
          sites.length,
          tapped.region,
          tapped.at,
          radius >= DRAG_FROM ? { length: size, width: size } : undefined,
        ),
      );
      chooseSite(sites.length);
      announce(`Place ${sites.length + 1}: ${tapped.region}`);
      return;
    }
    const index = names.indexOf(gesture.name);
    const row = shown[index];
    if (!row?.place) return;
    if (gesture.kind === "move" && row.place.at) visit.edit(...moveSite(index, row.place.at));
    else if (row.size) visit.edit(...sizeSite(index, row.size));
  };
  const ghost =
    gesture?.kind === "new"
      ? Math.min(LONGEST / 2, Math.hypot(gesture.to[0] - gesture.from[0], gesture.to[1] - gesture.from[1]))
      : 0;
  return (
    // biome-ignore lint/a11y/useSemanticElements: a fieldset cannot be a drawing
    <svg
      ref={drawing}
      class="head-map"
      viewBox={`0 -4 ${MAP.width} ${MAP.height}`}
      role="group"
      aria-label="Scalp map: tap to place a site, drag to give a patch its size"
      onPointerMove={(event) => gesture && setGesture({ ...gesture, to: pointOf(event) } as Gesture)}
      onPointerUp={end}
      onPointerCancel={() => setGesture(null)}
    >
      <g class="heads" onPointerDown={(event) => begin(event, (at) => ({ kind: "new", from: at, to: at }))}>
        {heads}
      </g>
      {gesture?.kind === "new" && ghost >= DRAG_FROM ? (
        <g class="ghost">
          <circle cx={gesture.from[0]} cy={gesture.from[1]} r={ghost} />
          <text x={gesture.from[0] + ghost + 5} y={gesture.from[1]}>
            {Math.round(2 * ghost)} mm
          </text>
        </g>
      ) : null}
      {shown.map((row, i) => {
        const at = points[i];
        return at && row.place ? (
          <Pin
            key={names[i]}
            number={i + 1}
            region={row.place.site}
            at={at}
            size={row.size}
            isBlurred={row.isBlurred}
            isChosen={i === site}
            reach={Math.max(13, 22 * perPixel)}
            choose={() => chooseSite(i)}
            grab={(event, kind) => {
              chooseSite(i);
              begin(event, (to) => ({ kind, name: names[i] ?? "", to }));
            }}
            nudge={(dx, dy) => {
              const place = row.place && placeIn(row.place.site, [at[0] + dx, at[1] + dy]);
              if (place) visit.edit(...moveSite(i, place));
            }}
            resize={(size) => visit.edit(...sizeSite(i, size))}
            remove={() => {
              visit.edit(...removeSite(i));
              chooseSite(Math.max(0, i - 1));
            }}
          />
        ) : null;
      })}
    </svg>
  );
}

/** The site as it will be when the finger lets go. */
function withGesture(row: SiteRow, name: string | undefined, gesture: Gesture | null): SiteRow {
  if (!gesture || gesture.kind === "new" || gesture.name !== name || !row.place) return row;
  if (gesture.kind === "move") {
    const at = placeIn(row.place.site, gesture.to);
    return at ? { ...row, place: { ...row.place, at } } : row;
  }
  const centre = pointsOf([row.place])[0];
  if (!centre) return row;
  const before: Size = row.size ?? { length: 10, width: 10 };
  const across = clamp(2 * Math.abs(gesture.to[0] - centre[0]));
  const down = clamp(2 * Math.abs(gesture.to[1] - centre[1]));
  return {
    ...row,
    size: gesture.kind === "length" ? { ...before, length: across } : { ...before, width: down },
  };
}

function Head({ view }: { readonly view: PlacedView }): JSX.Element {
  const { head, left, top } = view;
  const path = (curve: Parameters<typeof mapCurve>[0], closed = false) => curvePath(curve, closed);
  const [x, y, width, height] = head.frame;
  const named = (region: Region) => region.replace("-", "‑");
  return (
    // biome-ignore lint/a11y/noAriaHiddenOnFocusable: a group of lines takes no focus; the list of regions says the same
    <g transform={`translate(${left} ${top})`} aria-hidden="true">
      {head.regions.map(({ region, outline }) => (
        <path
          key={region}
          class={`region${region.endsWith("eyebrow") ? " brow" : ""}`}
          d={path(outline, true)}
        >
          <title>{named(region)}</title>
        </path>
      ))}
      <g class="lines">
        {head.outline.map((curve) => (
          <path key={path(curve)} class="strong" d={path(curve)} />
        ))}
        {head.over.map((curve) => (
          <path key={path(curve)} class="strong ear" d={path(curve, true)} />
        ))}
        {[...head.hairline, ...head.features, ...head.whorl].map((curve) => (
          <path key={path(curve)} class="fine" d={path(curve)} />
        ))}
      </g>
      <text class="caption" x={x + width / 2} y={y + height + MAP.caption - 4} text-anchor="middle">
        {CAPTIONS[head.view]}
      </text>
    </g>
  );
}

/** A numbered site on the map with its patch to scale; moved and sized by finger or by key. */
import type { JSX, TargetedKeyboardEvent } from "preact";
import type { Point } from "../../diagram/curve.js";

export interface Size {
  readonly length: number;
  readonly width: number;
}

interface PinProps {
  readonly number: number;
  readonly region: string;
  readonly at: Point;
  readonly size: Size | undefined;
  readonly isBlurred: boolean;
  readonly isChosen: boolean;
  readonly choose: () => void;
  readonly grab: (event: PointerEvent, kind: "move" | "length" | "width") => void;
  /** Millimetres to the right and down. */
  readonly nudge: (dx: number, dy: number) => void;
  readonly resize: (size: Size) => void;
  readonly remove: () => void;
  /** Radius that a finger finds, in millimetres of the drawing: 22 pixels on the screen. */
  readonly reach: number;
}

const RADIUS = 11;

export function Pin(props: PinProps): JSX.Element {
  const { number, region, at, size, isBlurred, isChosen, choose, grab, nudge, resize, remove, reach } = props;
  const [x, y] = at;
  const rx = size ? size.length / 2 : 0;
  const ry = size ? size.width / 2 : 0;
  // A number stands beside a patch too small to show round it.
  const beside = size !== undefined && Math.min(rx, ry) < RADIUS * 1.6;
  const [nx, ny]: Point = beside ? [x - rx * 0.7 - RADIUS, y - ry * 0.7 - RADIUS] : [x, y];
  const onKeyDown = (event: TargetedKeyboardEvent<SVGGElement>) => {
    const step: Record<string, Point> = {
      ArrowLeft: [-2, 0],
      ArrowRight: [2, 0],
      ArrowUp: [0, -2],
      ArrowDown: [0, 2],
    };
    const way = step[event.key];
    if (way && event.shiftKey) {
      const before = size ?? { length: 8, width: 8 };
      resize({
        length: Math.max(1, before.length + way[0] / 2),
        width: Math.max(1, before.width + way[1] / 2),
      });
    } else if (way) nudge(way[0], way[1]);
    else if (event.key === "Enter" || event.key === " ") choose();
    else if (event.key === "Delete") remove();
    else return;
    event.preventDefault();
  };
  const measure = size ? `, patch ${size.length} by ${size.width} millimetres` : "";
  return (
    <g class={`pin${isChosen ? " chosen" : ""}`}>
      {size ? (
        <ellipse
          class={`patch${isBlurred ? " blurred" : ""}`}
          cx={x}
          cy={y}
          rx={rx}
          ry={ry}
          onPointerDown={(event) => grab(event, "move")}
        />
      ) : null}
      {beside ? <line x1={nx} y1={ny} x2={x} y2={y} /> : null}
      {/* biome-ignore lint/a11y/useSemanticElements: a button cannot stand inside a drawing */}
      <g
        role="button"
        // In a drawing the attribute counts as written; the one in camel case is none.
        tabindex={0}
        aria-label={`Place ${number}: ${region}${measure}. Arrows move it, Shift and arrows size it.`}
        aria-pressed={isChosen}
        data-pin={number}
        onKeyDown={onKeyDown}
        onPointerDown={(event) => grab(event, "move")}
      >
        <circle class="touch" cx={nx} cy={ny} r={reach} />
        <circle class="disc" cx={nx} cy={ny} r={RADIUS} />
        <text x={nx} y={ny} dy="0.36em" text-anchor="middle">
          {number}
        </text>
      </g>
      {isChosen ? (
        <g class="handles">
          <Handle
            at={[x + Math.max(rx, 17) + reach, y]}
            grab={(event) => grab(event, "length")}
            reach={reach}
            wide
          />
          <Handle
            at={[x, y + Math.max(ry, 17) + reach]}
            grab={(event) => grab(event, "width")}
            reach={reach}
          />
        </g>
      ) : null}
    </g>
  );
}

interface HandleProps {
  readonly at: Point;
  readonly wide?: boolean;
  readonly grab: (event: PointerEvent) => void;
  readonly reach: number;
}

function Handle({ at: [x, y], wide, grab, reach }: HandleProps): JSX.Element {
  return (
    <g class={wide ? "handle wide" : "handle"} onPointerDown={grab}>
      <circle class="touch" cx={x} cy={y} r={reach} />
      <circle class="knob" cx={x} cy={y} r={4.5} />
    </g>
  );
}

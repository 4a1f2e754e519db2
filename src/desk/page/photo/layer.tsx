/** The marks over the picture: what counts is filled, what is only suggested is hollow. */
import type { JSX } from "preact";
import { areaOf } from "../../../picture/count.js";
import type { SuggestedHair } from "../../../picture/eye/suggest.js";
import { counts } from "../../../picture/geometry.js";
import type { Marks, Point } from "../../../picture/marks.js";
import type { MarksAgreed } from "../../messages.js";
import { toScreen, type View } from "./view.js";

interface LayerProps {
  readonly marks: Marks;
  readonly suggested: readonly SuggestedHair[];
  readonly view: View;
  /** Of the stage, in its own pixels. */
  readonly width: number;
  readonly cursor: Point | null;
  readonly pending: readonly Point[];
  /** Hairs that only one of two people has marked. */
  readonly differ: Pick<MarksAgreed, "onlyHere" | "onlyThere"> | null;
}

export function Layer({ marks, suggested, view, width, cursor, pending, differ }: LayerProps): JSX.Element {
  const at = (point: Point) => toScreen(view, point);
  const area = areaOf(marks);
  return (
    <svg class="layer" role="img" aria-label={named(marks, suggested.length, differ)}>
      <AreaLine marks={marks} view={view} />
      {(marks.scale?.kind === "lines" ? marks.scale.lines : []).map((line, i) => (
        <Stretch key={`s${i}`} from={at(line.from)} to={at(line.to)} kind="scale" />
      ))}
      {marks.widths.map((line, i) => (
        <Stretch key={`w${i}`} from={at(line.from)} to={at(line.to)} kind="width" />
      ))}
      {marks.patches.map(({ outline }, i) => (
        <polygon key={`p${i}`} class="outline" points={outline.map((point) => at(point).join()).join(" ")} />
      ))}
      {suggested.map((hair, i) => (
        <g key={`h${i}`} class="suggested">
          <polyline points={hair.path.map((point) => at(point).join()).join(" ")} />
          <circle cx={at(hair.at)[0]} cy={at(hair.at)[1]} r={7} />
        </g>
      ))}
      {marks.hairs.map((hair, i) => {
        const [x, y] = at(hair.at);
        return (
          <g key={`m${i}`} class={`hair ${hair.class ?? ""}${counts(area, hair.at) ? "" : " out"}`}>
            <circle cx={x} cy={y} r={5.5} />
            <text x={x + 8} y={y - 6}>
              {hair.class === "thin" ? "t" : hair.class === "vellus" ? "v" : ""}
            </text>
          </g>
        );
      })}
      {marks.dots.map((dot, i) => (
        <rect key={`d${i}`} class="dot" x={at(dot.at)[0] - 5} y={at(dot.at)[1] - 5} width={10} height={10} />
      ))}
      {marks.arrows.map((arrow, i) => {
        const [x, y] = at(arrow.at);
        // On the right of the picture the name stands to the left, so that its end is not cut off.
        const isRight = x > width * 0.45;
        return (
          <g key={`a${i}`} class="arrow">
            <path d={`M${x + 7} ${y - 7}l22 -22M${x + 7} ${y - 7}l9 -2M${x + 7} ${y - 7}l2 -9`} />
            <text x={isRight ? x + 29 : x + 31} y={y - 32} text-anchor={isRight ? "end" : "start"}>
              {arrow.finding.replaceAll("-", " ")}
            </text>
          </g>
        );
      })}
      {differ?.onlyHere.map((point, i) => (
        <circle key={`o${i}`} class="differs here" cx={at(point)[0]} cy={at(point)[1]} r={12} />
      ))}
      {differ?.onlyThere.map((point, i) => {
        const [x, y] = at(point);
        return <path key={`t${i}`} class="differs there" d={`M${x} ${y - 11}l11 11l-11 11l-11 -11z`} />;
      })}
      {pending.map((point, i) => (
        <circle key={`q${i}`} class="pending" cx={at(point)[0]} cy={at(point)[1]} r={4} />
      ))}
      {cursor ? <path class="cursor" d={crossAt(at(cursor))} /> : null}
    </svg>
  );
}

const crossAt = ([x, y]: Point) => `M${x - 14} ${y}h10M${x + 4} ${y}h10M${x} ${y - 14}v10M${x} ${y + 4}v10`;

function Stretch({
  from,
  to,
  kind,
}: {
  readonly from: Point;
  readonly to: Point;
  readonly kind: string;
}): JSX.Element {
  return <path class={kind} d={`M${from[0]} ${from[1]}L${to[0]} ${to[1]}`} />;
}

function AreaLine({ marks, view }: { readonly marks: Marks; readonly view: View }): JSX.Element | null {
  const { area } = marks;
  if (!area) return null;
  if (area.kind === "circle") {
    const [x, y] = toScreen(view, area.centre);
    return <circle class="area" cx={x} cy={y} r={area.radiusPx * view.zoom} />;
  }
  const [ax, ay] = area.kind === "rectangle" ? area.from : [0, 0];
  const [bx, by] = area.kind === "rectangle" ? area.to : [0, 0];
  const corners: readonly Point[] =
    area.kind === "polygon"
      ? area.corners
      : [
          [ax, ay],
          [bx, ay],
          [bx, by],
          [ax, by],
        ];
  return <polygon class="area" points={corners.map((point) => toScreen(view, point).join()).join(" ")} />;
}

function named(
  { hairs, dots, widths, arrows }: Marks,
  suggested: number,
  differ: LayerProps["differ"],
): string {
  const parts = [
    `${hairs.length} hairs`,
    `${dots.length} dots`,
    `${widths.length} widths`,
    `${arrows.length} arrows`,
    ...(differ
      ? [
          `${differ.onlyHere.length} hairs only here`,
          `${differ.onlyThere.length} hairs only in the other file`,
        ]
      : []),
    ...(suggested > 0 ? [`${suggested} suggestions that do not count yet`] : []),
  ];
  return `Marks on the photo: ${parts.join(", ")}`;
}

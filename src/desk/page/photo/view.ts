/** Where a picture stands on the screen: zoom and pan, by wheel, keys, one finger or two. */
import type { Point } from "../../../picture/marks.js";

export interface View {
  /** Screen pixels to a pixel of the picture. */
  readonly zoom: number;
  /** Where the picture's upper left corner stands. */
  readonly left: number;
  readonly top: number;
}

export interface Size {
  readonly width: number;
  readonly height: number;
}

export const fitted = (picture: Size, room: Size): View => {
  const zoom = Math.min(room.width / picture.width, room.height / picture.height);
  return {
    zoom,
    left: (room.width - zoom * picture.width) / 2,
    top: (room.height - zoom * picture.height) / 2,
  };
};

export const toPicture = ({ zoom, left, top }: View, [x, y]: Point): Point => [
  (x - left) / zoom,
  (y - top) / zoom,
];
export const toScreen = ({ zoom, left, top }: View, [x, y]: Point): Point => [
  left + x * zoom,
  top + y * zoom,
];

const MOST = 12;

/** Zoomed about a point of the screen, which stays where it is. */
export function zoomed(view: View, by: number, [x, y]: Point, least: number): View {
  const zoom = Math.min(MOST, Math.max(least, view.zoom * by));
  const times = zoom / view.zoom;
  return { zoom, left: x - (x - view.left) * times, top: y - (y - view.top) * times };
}

export const panned = (view: View, dx: number, dy: number): View => ({
  ...view,
  left: view.left + dx,
  top: view.top + dy,
});

/** Moves the picture so that a point of it stands within the room. */
export function broughtIn(view: View, point: Point, room: Size): View {
  const [x, y] = toScreen(view, point);
  const margin = 40;
  const dx = x < margin ? margin - x : x > room.width - margin ? room.width - margin - x : 0;
  const dy = y < margin ? margin - y : y > room.height - margin ? room.height - margin - y : 0;
  return panned(view, dx, dy);
}

/** Finger, pen or pointer on the picture: a tap marks, a drag moves the picture or the mark it began on, two fingers and the wheel zoom. */
import type { RefObject } from "preact";
import { useEffect, useRef } from "preact/hooks";
import type { Point } from "../../../picture/marks.js";
import { panned, toPicture, type View, zoomed } from "./view.js";

/** Less than this is a tap, in screen pixels. */
const DRAG_FROM = 7;

interface Hand {
  readonly from: Point;
  readonly now: Point;
  readonly moved: boolean;
  /** True when it holds a mark. */
  readonly holds: boolean;
}

/** A mark that a hand can take and carry. */
export interface Carry {
  readonly takes: (at: Point) => boolean;
  /** Where the mark is while the hand moves; null when it is let go. */
  readonly over: (way: readonly [from: Point, to: Point] | null) => void;
  readonly drops: (from: Point, to: Point) => void;
}

export function useHands(
  stage: RefObject<HTMLElement | null>,
  view: View,
  least: number,
  setView: (view: View) => void,
  tap: (at: Point) => void,
  carry: Carry,
) {
  const hands = useRef(new Map<number, Hand>());
  const pinched = useRef(false);
  const newest = useRef(view);
  newest.current = view;
  const take = (next: View) => {
    newest.current = next;
    setView(next);
  };
  const at = ({ clientX, clientY }: { clientX: number; clientY: number }): Point => {
    const box = stage.current?.getBoundingClientRect();
    return [clientX - (box?.left ?? 0), clientY - (box?.top ?? 0)];
  };
  // The browser may only be kept from scrolling by a listener that says so beforehand.
  useEffect(() => {
    const holder = stage.current;
    if (!holder) return;
    const onWheel = (event: WheelEvent) => {
      event.preventDefault();
      take(zoomed(newest.current, Math.exp(-event.deltaY / 400), at(event), least));
    };
    holder.addEventListener("wheel", onWheel, { passive: false });
    return () => holder.removeEventListener("wheel", onWheel);
  });
  return {
    onPointerDown: (event: PointerEvent) => {
      if (event.button !== 0) return;
      stage.current?.setPointerCapture(event.pointerId);
      const from = at(event);
      const holds = hands.current.size === 0 && carry.takes(toPicture(newest.current, from));
      hands.current.set(event.pointerId, { from, now: from, moved: false, holds });
      if (hands.current.size > 1) {
        pinched.current = true;
        carry.over(null);
      }
    },
    onPointerMove: (event: PointerEvent) => {
      const hand = hands.current.get(event.pointerId);
      if (!hand) return;
      const now = at(event);
      const moved = hand.moved || Math.hypot(now[0] - hand.from[0], now[1] - hand.from[1]) > DRAG_FROM;
      const others = [...hands.current]
        .filter(([id]) => id !== event.pointerId)
        .map(([, other]) => other.now);
      const [other] = others;
      if (other) {
        const [before, after] = [far(hand.now, other), far(now, other)];
        const middle: Point = [(now[0] + other[0]) / 2, (now[1] + other[1]) / 2];
        const next = panned(newest.current, (now[0] - hand.now[0]) / 2, (now[1] - hand.now[1]) / 2);
        take(zoomed(next, after / Math.max(1, before), middle, least));
      } else if (moved && !pinched.current) {
        if (hand.holds) carry.over([toPicture(newest.current, hand.from), toPicture(newest.current, now)]);
        else take(panned(newest.current, now[0] - hand.now[0], now[1] - hand.now[1]));
      }
      hands.current.set(event.pointerId, { ...hand, now, moved });
    },
    onPointerUp: (event: PointerEvent) => {
      const hand = hands.current.get(event.pointerId);
      hands.current.delete(event.pointerId);
      if (hand && !pinched.current) {
        const from = toPicture(newest.current, hand.from);
        if (!hand.moved) tap(from);
        else if (hand.holds) carry.drops(from, toPicture(newest.current, at(event)));
      }
      carry.over(null);
      if (hands.current.size === 0) pinched.current = false;
    },
    onPointerCancel: (event: PointerEvent) => {
      hands.current.delete(event.pointerId);
      carry.over(null);
      if (hands.current.size === 0) pinched.current = false;
    },
  };
}

const far = ([ax, ay]: Point, [bx, by]: Point) => Math.hypot(bx - ax, by - ay);

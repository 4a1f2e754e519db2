/** Measures and borders of an office document. */
import { BorderStyle, type ITableBordersOptions } from "docx";

export const BULLETS = "bullets";
export const NUMBERS = "numbers";

/** Points as twentieths of a point, whole. */
export function twips(points: number): number {
  return Math.round(points * 20);
}

/** Points as half points, whole. */
export function halfPoints(points: number): number {
  return Math.round(points * 2);
}

/** `#1d4a58` -> `1D4A58` */
export function colour(hex: string): string {
  return hex.replace("#", "").toUpperCase();
}

const NONE = { style: BorderStyle.NIL, size: 0, color: "auto" } as const;

export const NO_BORDERS: ITableBordersOptions = {
  top: NONE,
  bottom: NONE,
  left: NONE,
  right: NONE,
  insideHorizontal: NONE,
  insideVertical: NONE,
};

/** A rule of so many eighths of a point. */
export function rule(hex: string, eighths = 4) {
  return { style: BorderStyle.SINGLE, size: eighths, color: colour(hex) } as const;
}

/** Space above and below the text of a cell. */
export const CELL_SPACING = { before: 20, after: 20 } as const;

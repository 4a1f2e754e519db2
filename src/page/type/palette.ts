/** The inks of every page. Each text ink keeps at least 4.5:1 on every ground it is set on, so grey print and tired eyes lose nothing. */

export const PALETTE = {
  paper: "#ffffff",
  ink: "#1b1f22",
  /** Captions, the foot, table headings. */
  quiet: "#4d565b",
  /** The one accent: the clinic's name, headings, the bar beside the summary. */
  accent: "#1d4a58",
  /** Ground of the summary box. */
  tint: "#f2f5f5",
  hairline: "#98a3a6",
  /** The word behind the text of an unsigned letter; an artifact, never the only sign that a letter is a draft. */
  draft: "#e4e7e8",
} as const;

/** Pairs of text ink and ground that occur on a page. */
export const TEXT_PAIRS: readonly (readonly [ink: string, ground: string])[] = [
  [PALETTE.ink, PALETTE.paper],
  [PALETTE.ink, PALETTE.tint],
  [PALETTE.ink, PALETTE.draft],
  [PALETTE.quiet, PALETTE.paper],
  [PALETTE.quiet, PALETTE.tint],
  [PALETTE.quiet, PALETTE.draft],
  [PALETTE.accent, PALETTE.paper],
  [PALETTE.accent, PALETTE.tint],
  [PALETTE.accent, PALETTE.draft],
];

function luminance(hex: string): number {
  const channel = (from: number) => {
    const c = Number.parseInt(hex.slice(from, from + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}

/** Contrast ratio of two `#rrggbb` colours, 1 to 21, by the relative luminance of WCAG 2.2. */
export function contrast(first: string, second: string): number {
  const a = luminance(first);
  const b = luminance(second);
  return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
}

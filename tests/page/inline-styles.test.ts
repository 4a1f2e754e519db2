/** A drawing with a style sheet says the same in attributes: the rule that counts more, whatever its order; nothing that is more than plain rules. */
import { describe, expect, it } from "vitest";
import { inlineStyles } from "../../src/page/drawing/inline-styles.js";

const drawing = (css: string, body: string) =>
  `<svg xmlns="http://www.w3.org/2000/svg"><style>${css}</style>${body}</svg>`;
const inner = (css: string, body: string) =>
  inlineStyles(drawing(css, body))?.replace(/^<svg[^>]*>|<\/svg>$/gu, "");

describe("a style sheet in a drawing", () => {
  it("becomes attributes, over those that stood there, and is gone with its classes", () => {
    expect(inner(".a{fill:#012;stroke:none}", '<path class="a" fill="red" d="M0 0"/>')).toBe(
      '<path fill="#012" d="M0 0" stroke="none"/>',
    );
  });

  it("lets an id count more than a class, a class more than an element, and the own style most", () => {
    const css = "#x{fill:#1} .a{fill:#2;stroke:#2} path{fill:#3;stroke:#3;opacity:.3}";
    expect(inner(css, '<path id="x" class="a" d="M0"/>')).toBe(
      '<path id="x" d="M0" fill="#1" stroke="#2" opacity=".3"/>',
    );
    expect(inner(css, '<path id="x" style="fill: #4" d="M0"/>')).toBe(
      '<path id="x" d="M0" fill="#4" stroke="#3" opacity=".3"/>',
    );
  });

  it("lets the later of two equal rules stand, and follows lists and descendants", () => {
    expect(
      inner("g .a, rect{fill:#1} g .a{fill:#2}", '<g><path class="a"/></g><path class="a"/><rect/>'),
    ).toBe('<g><path fill="#2"/></g><path/><rect fill="#1"/>');
  });

  it("leaves out what is not about looks", () => {
    expect(inner(".a{fill:#1;cursor:pointer;-x-y:z}", '<path class="a"/>')).toBe('<path fill="#1"/>');
  });

  it.each(["@media print{.a{fill:#1}}", "@import 'a.css';", ".a{fill:#1", ".a:hover{fill:#1}", "{fill:#1}"])(
    "does not guess at %s",
    (css) => {
      expect(inlineStyles(drawing(css, '<path class="a"/>'))).toBeUndefined();
    },
  );
});

/**
 * Stands in for a PDF document while a page is traced, and notes the fewest plain calls that draw the same: coordinates of the
 * page instead of nested transformations, and no colour, width or font set twice.
 */
import type { BareFont } from "./bare-document.js";
import type { Call } from "./calls.js";
import {
  type Args,
  FILLING,
  FRESH,
  type Matrix,
  plainColor,
  STROKING,
  type State,
  times,
  UNSAID,
} from "./pen-state.js";

export interface Type {
  /** Font file. */
  readonly font: string;
  readonly size: number;
}

export class Pen {
  /** Read by the drawing library: a page's size, the matrix and font in force. */
  readonly page: { width: number; height: number; fonts: Record<string, unknown>; annotations: unknown[] };
  readonly _registeredFonts = {};
  _font: BareFont | undefined;
  readonly calls: Call[] = [];
  readonly fonts = new Set<string>();

  private state: State = { matrix: [1, 0, 0, 1, 0, 0], settings: UNSAID };
  private readonly saved: State[] = [];
  private noted: Record<string, Args> = { ...FRESH };
  private path: Call[] = [];
  private readonly fontsById = new Map<string, string>();
  private lettering = { font: "", size: 0, matrix: [1, 0, 0, 1, 0, 0] as Matrix };

  constructor(
    width: number,
    height: number,
    private readonly fontAt: (path: string) => BareFont,
  ) {
    this.page = { width, height, fonts: {}, annotations: [] };
  }

  get _ctm(): Matrix {
    return this.state.matrix;
  }

  save(): this {
    this.saved.push(this.state);
    return this;
  }

  restore(): this {
    this.state = this.saved.pop() ?? this.state;
    return this;
  }

  transform(...matrix: Matrix): this {
    this.state = { ...this.state, matrix: times(this.state.matrix, matrix) };
    return this;
  }

  translate(x: number, y: number): this {
    return this.transform(1, 0, 0, 1, x, y);
  }

  scale(factor: number): this {
    return this.transform(factor, 0, 0, factor, 0, 0);
  }

  private want(name: string, ...args: Args): this {
    this.state = { ...this.state, settings: { ...this.state.settings, [name]: args } };
    return this;
  }

  fillColor(color: unknown, opacity: unknown = 1): this {
    return this.want("fillColor", plainColor(color)).want("fillOpacity", opacity);
  }

  strokeColor(color: unknown, opacity: unknown = 1): this {
    return this.want("strokeColor", plainColor(color)).want("strokeOpacity", opacity);
  }

  /** Asked by what draws underlines. */
  resolveColor(color: string | undefined, otherwise: string): string {
    return color ?? otherwise;
  }

  fillOpacity(opacity: number): this {
    return this.want("fillOpacity", opacity);
  }

  strokeOpacity(opacity: number): this {
    return this.want("strokeOpacity", opacity);
  }

  lineWidth(width: number): this {
    return this.want("lineWidth", width * this.factor());
  }

  lineCap(cap: string): this {
    return this.want("lineCap", cap);
  }

  lineJoin(join: string): this {
    return this.want("lineJoin", join);
  }

  miterLimit(limit: number): this {
    return this.want("miterLimit", limit);
  }

  dash(lengths: readonly number[], options: { readonly phase: number }): this {
    const factor = this.factor();
    return this.want(
      "dash",
      lengths.map((length) => length * factor),
      { phase: options.phase * factor },
    );
  }

  /** How much lengths grow on the page. */
  private factor(): number {
    const [a, b, c, d] = this.state.matrix;
    return Math.sqrt(Math.abs(a * d - b * c));
  }

  private place(x: number, y: number): [number, number] {
    const [a, b, c, d, e, f] = this.state.matrix;
    return [a * x + c * y + e, b * x + d * y + f];
  }

  moveTo(x: number, y: number): this {
    this.path.push(["moveTo", ...this.place(x, y)]);
    return this;
  }

  lineTo(x: number, y: number): this {
    this.path.push(["lineTo", ...this.place(x, y)]);
    return this;
  }

  bezierCurveTo(x1: number, y1: number, x2: number, y2: number, x: number, y: number): this {
    this.path.push(["bezierCurveTo", ...this.place(x1, y1), ...this.place(x2, y2), ...this.place(x, y)]);
    return this;
  }

  closePath(): this {
    this.path.push(["closePath"]);
    return this;
  }

  rect(x: number, y: number, width: number, height: number): this {
    const [, b, c] = this.state.matrix;
    if (b === 0 && c === 0) {
      const [left, top] = this.place(x, y);
      const [right, bottom] = this.place(x + width, y + height);
      this.path.push(["rect", left, top, right - left, bottom - top]);
      return this;
    }
    this.moveTo(x, y).lineTo(x + width, y);
    return this.lineTo(x + width, y + height)
      .lineTo(x, y + height)
      .closePath();
  }

  circle(x: number, y: number, radius: number): this {
    this.path.push(["circle", ...this.place(x, y), radius * this.factor()]);
    return this;
  }

  /** Who draws by hand stays inside the frame, so the frame of a drawing needs no clipping. */
  clip(): this {
    this.path = [];
    return this;
  }

  fill(rule?: string): this {
    return this.paint(rule === "evenodd" ? ["fill", "even-odd"] : ["fill"], FILLING);
  }

  stroke(): this {
    return this.paint(["stroke"], STROKING);
  }

  fillAndStroke(rule?: string): this {
    const painting: Call =
      rule === "evenodd" ? ["fillAndStroke", undefined, undefined, "even-odd"] : ["fillAndStroke"];
    return this.paint(painting, [...FILLING, ...STROKING]);
  }

  private paint(painting: Call, settings: readonly string[]): this {
    if (this.path.length === 0) return this;
    this.note(settings);
    this.calls.push(...this.path, painting);
    this.path = [];
    return this;
  }

  /** Notes what has to be set before something is drawn. */
  private note(settings: readonly string[]): void {
    for (const name of settings) {
      const args = this.state.settings[name];
      if (!args || JSON.stringify(args) === JSON.stringify(this.noted[name])) continue;
      this.noted[name] = args;
      const isSolid = name === "dash" && (args[0] as readonly number[]).length === 0;
      this.calls.push(isSolid ? ["undash"] : [name, ...args]);
    }
  }

  /** Asked for what plain calls cannot draw: patterns, masks, groups that are seen through. */
  ref(): never {
    throw new Error("the floor cannot draw a picture with patterns, masks or groups");
  }

  linearGradient(): never {
    throw new Error("the floor cannot draw a picture with gradients");
  }

  radialGradient(): never {
    return this.linearGradient();
  }

  font(path: string): this {
    this._font = this.fontAt(path);
    this.fontsById.set(`/${this._font.id}`, path);
    return this;
  }

  /** Words with their top left corner, or with `alphabetic` the start of their baseline, at a place on the page. */
  write(text: string, x: number, y: number, type: Type, options: object = {}): void {
    this.note(FILLING);
    this.set("font", type.font);
    this.set("fontSize", type.size);
    this.fonts.add(type.font);
    this.calls.push(["text", text, x, y, { lineBreak: false, ...options }]);
  }

  private set(name: string, value: unknown): void {
    if (this.noted[name]?.[0] === value) return;
    this.noted[name] = [value];
    this.calls.push([name, value]);
  }

  /** The drawing library writes its lettering as operators of the page; these become calls again. */
  addContent(operator: string): this {
    const parts = operator.split(" ");
    const name = parts.at(-1);
    if (name === "Tf")
      this.lettering = {
        ...this.lettering,
        font: this.fontsById.get(parts[0] ?? "") ?? "",
        size: Number(parts[1]),
      };
    else if (name === "Tm") {
      const [a = 1, b = 0, c = 0, d = 1, e = 0, f = 0] = parts.slice(0, 6).map(Number);
      this.lettering = { ...this.lettering, matrix: [a, b, -c, -d, e, f] };
    } else if (name === "TJ") this.letter(operator);
    else if (!["BT", "ET"].includes(operator) && operator !== "0 Tr")
      throw new Error(`the floor cannot draw a picture that needs "${operator}"`);
    return this;
  }

  private letter(operator: string): void {
    const glyphs = [...operator.matchAll(/<([\da-f]*)>/gi)].flatMap(([, hex]) => hex?.match(/.{4}/g) ?? []);
    const { font, size } = this.lettering;
    const { unicode } = this.fontAt(font);
    const characters = glyphs.flatMap((glyph) => unicode[Number.parseInt(glyph, 16)] ?? []);
    const text = String.fromCodePoint(...characters);
    const matrix = times(this.state.matrix, this.lettering.matrix);
    const [a, b, c, d, e, f] = matrix;
    const isLevel = b === 0 && c === 0 && Math.abs(a - d) < 0.001;
    if (isLevel) this.write(text, e, f, { font, size: size * a }, { baseline: "alphabetic" });
    else {
      this.note(FILLING);
      this.calls.push(["save"], ["transform", ...matrix]);
      this.write(text, 0, 0, { font, size }, { baseline: "alphabetic" });
      this.calls.push(["restore"]);
    }
  }
}

/** What the next tap does. */
import type { JSX } from "preact";
import { useId } from "preact/hooks";
import { HAIR_CLASSES, type HairClass } from "../../../picture/marks.js";
import type { MarkerOptions } from "./kept.js";

export const TOOLS = {
  field: "Field",
  scale: "Scale line",
  area: "Area",
  outline: "Outline",
  hair: "Hair",
  unit: "Same unit",
  width: "Width",
  dot: "Dot",
  arrow: "Arrow",
  patch: "Patch",
  move: "Move",
  remove: "Take off",
} as const;
export type Tool = keyof typeof TOOLS;

const HOW: Readonly<Record<Tool, string>> = {
  field: "Tap the two ends of a line through the middle of the field: scale and area in one.",
  scale: "Tap the two ends of a length you know; repeat it to learn how sure the scale is.",
  area: "Tap two opposite corners of the area to be counted.",
  outline: "Tap round the area to be counted, then close the outline.",
  hair: "Tap where the hair leaves the skin; a tap on a hollow mark accepts it, one on the other end of its line turns it round.",
  unit: "Tap further hairs of the unit marked last.",
  width: "Tap one edge of a shaft, then the other.",
  dot: "Tap each dot.",
  arrow: "Tap what the letter is to show.",
  patch: "Tap round the patch, then close the outline.",
  move: "Drag a mark to where it belongs, or tap it and then the place.",
  remove: "Tap a mark to take it off.",
};

interface ToolsProps {
  readonly tool: Tool;
  readonly choose: (tool: Tool) => void;
  readonly kind: HairClass;
  readonly chooseKind: (kind: HairClass) => void;
  readonly findings: MarkerOptions["findings"];
  readonly finding: string;
  readonly chooseFinding: (finding: string) => void;
  readonly lengthMm: number;
  readonly setLength: (mm: number) => void;
  readonly signed: boolean;
}

export function Tools(props: ToolsProps): JSX.Element {
  const { tool, choose, kind, chooseKind, findings, finding, chooseFinding, lengthMm, setLength } = props;
  const id = useId();
  return (
    <div class="tools">
      <fieldset class="steps-of" aria-label="What a tap does">
        {(Object.keys(TOOLS) as Tool[]).map((name) => (
          <button
            key={name}
            type="button"
            aria-pressed={tool === name ? "true" : "false"}
            disabled={props.signed}
            onClick={() => choose(name)}
          >
            {TOOLS[name]}
          </button>
        ))}
      </fieldset>
      {tool === "hair" || tool === "unit" ? (
        <fieldset class="steps-of" aria-label="Class of the hair">
          {HAIR_CLASSES.map((name) => (
            <button
              key={name}
              type="button"
              aria-pressed={kind === name ? "true" : "false"}
              onClick={() => chooseKind(name)}
            >
              {name}
            </button>
          ))}
        </fieldset>
      ) : null}
      {tool === "dot" || tool === "arrow" ? (
        <label for={`${id}f`}>
          Finding{" "}
          <select
            id={`${id}f`}
            value={finding}
            onChange={(event) => chooseFinding(event.currentTarget.value)}
          >
            {findings.map((entry) => (
              <option key={entry.id} value={entry.id}>
                {entry.term}
              </option>
            ))}
          </select>
        </label>
      ) : null}
      {tool === "field" || tool === "scale" ? (
        <label for={`${id}l`}>
          {tool === "field" ? "Field" : "Length"}, mm{" "}
          <input
            id={`${id}l`}
            type="number"
            min="0.01"
            max="500"
            step="any"
            value={lengthMm}
            onInput={(event) => {
              const mm = Number(event.currentTarget.value);
              if (mm > 0) setLength(mm);
            }}
          />
        </label>
      ) : null}
      <p class="hint">{HOW[tool]}</p>
    </div>
  );
}

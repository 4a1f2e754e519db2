/** How far the marks here agree with another person's of the same photo, whose file is chosen. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { MarksAgreed, Refusal } from "../../messages.js";
import { ChooseFile } from "../choose-file.js";
import type { Kept, MarkerOptions } from "./kept.js";

interface OtherProps {
  readonly options: MarkerOptions;
  readonly kept: Kept;
  /** Where the two differ, on the photo; null takes it off. */
  readonly differ: MarksAgreed | null;
  readonly show: (differ: MarksAgreed | null) => void;
}

export function OtherMarks({ options, kept, differ, show }: OtherProps): JSX.Element {
  const [said, say] = useState<readonly string[]>([]);
  const compare = async (other: File) => {
    await kept.settled();
    const { file, photo, send } = options;
    const response = await send("agree", { file, photo, marks: await other.text() }).catch(() => undefined);
    show(null);
    if (!response) return say(["The desk does not answer."]);
    if (response.ok) {
      const agreed = (await response.json()) as MarksAgreed;
      show(agreed);
      return say(inWords(agreed));
    }
    const { refused, problems = [] } = (await response.json()) as Refusal;
    say([refused, ...problems.map(({ message, line }) => `Line ${line ?? "?"}: ${message}`)]);
  };
  return (
    <>
      <h3>Marks of a second person</h3>
      <p class="acts">
        <ChooseFile
          label="Compare with a marks file"
          accept=".yaml,.yml"
          take={(other) => void compare(other)}
        />
      </p>
      {differ && differ.onlyHere.length + differ.onlyThere.length > 0 ? (
        <>
          <p class="hint">
            On the photo: a diamond where only the other file has a hair, a dashed ring round a mark that only
            stands here.
          </p>
          <p class="acts">
            <button type="button" onClick={() => show(null)}>
              Hide the differences
            </button>
          </p>
        </>
      ) : null}
      <div role="status">
        {said.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </div>
    </>
  );
}

const percent = (part: number): string => (100 * part).toFixed(0);

function inWords({ shared, onlyHere, onlyThere, agreement, classKappa }: MarksAgreed): string[] {
  return [
    `${shared} ${shared === 1 ? "hair" : "hairs"} marked by both, ${onlyHere.length} only here, ${onlyThere.length} only in the other file.`,
    ...(agreement
      ? [
          `Agreement on hairs ${percent(agreement.value)} % (95 %: ${percent(agreement.low)}–${percent(agreement.high)}).`,
        ]
      : []),
    ...(classKappa === undefined
      ? []
      : [
          `Class of the shared hairs: kappa ${classKappa.toFixed(2)}, where 1 is full agreement and 0 is chance.`,
        ]),
  ];
}

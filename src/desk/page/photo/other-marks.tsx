/** How far the marks here agree with another person's of the same photo, whose file is chosen. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { MarksAgreed, Refusal } from "../../messages.js";
import type { Kept, MarkerOptions } from "./kept.js";

interface OtherProps {
  readonly options: MarkerOptions;
  readonly kept: Kept;
}

export function OtherMarks({ options, kept }: OtherProps): JSX.Element {
  const [said, say] = useState<readonly string[]>([]);
  const compare = async (other: File | undefined) => {
    if (!other) return;
    await kept.settled();
    const { file, photo, send } = options;
    const response = await send("agree", { file, photo, marks: await other.text() }).catch(() => undefined);
    if (!response) return say(["The desk does not answer."]);
    if (response.ok) return say(inWords((await response.json()) as MarksAgreed));
    const { refused, problems = [] } = (await response.json()) as Refusal;
    say([refused, ...problems.map(({ message, line }) => `Line ${line ?? "?"}: ${message}`)]);
  };
  return (
    <>
      <h3>Marks of a second person</h3>
      <p class="acts">
        <label class="choose">
          Compare with a marks file
          <input
            type="file"
            accept=".yaml,.yml"
            onChange={(event) => {
              void compare(event.currentTarget.files?.[0]);
              event.currentTarget.value = "";
            }}
          />
        </label>
      </p>
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
    `${shared} ${shared === 1 ? "hair" : "hairs"} marked by both, ${onlyHere} only here, ${onlyThere} only in the other file.`,
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

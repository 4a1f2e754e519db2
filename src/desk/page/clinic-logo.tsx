/** The clinic's logo: chosen or dropped, kept beside the clinic file once the desk has found that it can be printed. */
import type { JSX } from "preact";
import { useState } from "preact/hooks";
import type { Problem } from "../../base/problem.js";
import { askClinicLogo, whyNot } from "./ask.js";
import { base64 } from "./base64.js";
import { ChooseFile } from "./choose-file.js";
import { Saying } from "./clinic-fields.js";

interface LogoProps {
  /** File name in the clinic file; empty where there is none. */
  readonly logo: string;
  readonly write: (logo: string) => void;
  readonly problems: readonly Problem[];
}

export function Logo({ logo, write, problems }: LogoProps): JSX.Element {
  const [isOver, setOver] = useState(false);
  const [refused, setRefused] = useState("");
  const take = async (file: File | undefined) => {
    if (!file) return;
    setRefused("");
    const answer = await askClinicLogo(file.name, await base64(file));
    if (answer.kind === "done") write(answer.value.logo);
    else setRefused(whyNot(answer));
  };
  return (
    // biome-ignore lint/a11y/useSemanticElements: a place to drop a file on has no element of its own
    <div
      class={`logo-drop${isOver ? " over" : ""}`}
      role="group"
      aria-label="Logo"
      onDragOver={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={() => setOver(false)}
      onDrop={(event) => {
        event.preventDefault();
        setOver(false);
        void take(event.dataTransfer?.files[0]);
      }}
    >
      <p>
        {logo === "" ? "No logo: the clinic's name stands alone." : `Logo: ${logo}`}{" "}
        <span class="hint">SVG, PNG or JPEG; drop it here or choose it</span>
      </p>
      <p class="acts">
        <ChooseFile
          label="Choose a logo"
          accept=".svg,.png,.jpg,.jpeg,image/svg+xml,image/png,image/jpeg"
          take={(file) => void take(file)}
        />
        {logo === "" ? null : (
          <button type="button" onClick={() => write("")}>
            Without a logo
          </button>
        )}
      </p>
      {refused ? (
        <p class="error" role="alert">
          {refused}
        </p>
      ) : null}
      <Saying problems={problems} id="logo-said" />
    </div>
  );
}

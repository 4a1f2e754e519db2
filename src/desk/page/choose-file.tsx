/** A file of this computer, chosen; the same one may be chosen again once it was changed. */
import type { JSX } from "preact";

interface ChooseProps {
  readonly label: string;
  /** Endings and kinds that the browser offers. */
  readonly accept: string;
  readonly take: (file: File) => void;
}

export function ChooseFile({ label, accept, take }: ChooseProps): JSX.Element {
  return (
    <label class="choose">
      {label}
      <input
        type="file"
        accept={accept}
        onChange={(event) => {
          const file = event.currentTarget.files?.[0];
          if (file) take(file);
          event.currentTarget.value = "";
        }}
      />
    </label>
  );
}

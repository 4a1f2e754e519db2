/** The helping eye in a worker of its own, so that the page never waits for it. */
import type { Rgba } from "../../../picture/eye/grey.js";
import { type Suggestions, suggest } from "../../../picture/eye/suggest.js";
import type { Area } from "../../../picture/marks.js";

export interface EyeAsked {
  readonly picture: Rgba;
  readonly area: Area;
}

export interface EyeAnswer {
  readonly suggestions: Suggestions;
  readonly ms: number;
}

interface WorkerScope {
  onmessage: ((event: MessageEvent<EyeAsked>) => void) | null;
  postMessage(answer: EyeAnswer): void;
}

const scope = self as unknown as WorkerScope;
scope.onmessage = ({ data: { picture, area } }) => {
  const before = performance.now();
  const suggestions = suggest(picture, area);
  scope.postMessage({ suggestions, ms: performance.now() - before });
};

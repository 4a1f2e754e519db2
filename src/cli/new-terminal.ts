/** Questions put in the terminal. */
import { checkbox, input, select } from "@inquirer/prompts";
import type { Asker } from "./new-ask.js";

const PAGE = 14;

/** Asks in the terminal; Ctrl-C ends with undefined answers, which `askVisit` takes as a stop. */
export const terminalAsker: Asker = {
  text: (message, { fallback, check }) =>
    stoppable(
      input({
        message,
        ...(fallback === undefined ? {} : { default: fallback }),
        validate: (answer) => check?.(answer.trim()) ?? true,
      }),
    ),
  choose: (message, choices) =>
    stoppable(select({ message, choices: [...choices], pageSize: PAGE, loop: false })),
  tick: (message, choices) =>
    stoppable(checkbox({ message, choices: [...choices], pageSize: PAGE, loop: false })),
};

async function stoppable<T>(answer: Promise<T>): Promise<T | undefined> {
  try {
    return await answer;
  } catch (error) {
    if (error instanceof Error && error.name === "ExitPromptError") return undefined;
    throw error;
  }
}

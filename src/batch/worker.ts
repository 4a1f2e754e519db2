/** A thread that does jobs one after the other; parsed fonts, templates and knowledge stay warm between them. */
import type { MessagePort } from "node:worker_threads";
import { type JobSettings, Jobs } from "./job.js";
import type { Answer, Task } from "./pool.js";

/** Answers each task that comes through the port. */
export function work(port: MessagePort | null, settings: JobSettings): void {
  const jobs = new Jobs(settings);
  let before = Promise.resolve();
  port?.on("message", (task: Task) => {
    // One after the other, though the next task comes before the first is done.
    before = before.then(async () => port.postMessage(await answer(jobs, task)));
  });
}

async function answer(jobs: Jobs, task: Task): Promise<Answer> {
  try {
    if (task.kind === "proof") return { kind: "proof", faults: await jobs.proof(task.visit, task.documents) };
    return { kind: "make", made: await jobs.make(task.visit) };
  } catch (error) {
    // The message of an error may hold what a visit says; its kind and place do not.
    const stack = error instanceof Error ? (error.stack ?? "") : "";
    const place = /\bat [^\n]*?([\w-]+\.c?[jt]s:\d+)/u.exec(stack)?.[1] ?? "";
    return { kind: "fault", name: error instanceof Error ? error.name : typeof error, place };
  }
}

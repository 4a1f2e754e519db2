/** Whether somebody is at work on the page: whatever goes on beside it waits for a moment in which nothing was asked. */
import { setTimeout } from "node:timers/promises";

const LOOK_EVERY_MS = 20;

export class Quiet {
  private asked = Date.now();

  /** Told of every request that a hand has caused. */
  stir(): void {
    this.asked = Date.now();
  }

  /** Waits until nothing was asked for `ms`. */
  async wait(ms: number): Promise<void> {
    while (Date.now() - this.asked < ms) await setTimeout(LOOK_EVERY_MS, undefined, { ref: false });
  }
}

/** Whether somebody is at work on the page: whatever goes on beside it waits for a moment in which nothing was asked. */
import { setTimeout } from "node:timers/promises";

const LOOK_EVERY_MS = 20;

export class Quiet {
  private asked = Date.now();
  private isOver = false;
  private arrive: () => void = () => undefined;
  /** Kept once a page has come that asks for something. */
  private readonly arrived = new Promise<void>((resolve) => {
    this.arrive = resolve;
  });

  /** Told of every request that a hand has caused; `isPage` of one by a page that runs. */
  stir(isPage: boolean): void {
    this.asked = Date.now();
    if (isPage) this.arrive();
  }

  /** Waits until a page asks for something, at most for `ms`. */
  async page(ms: number): Promise<void> {
    await Promise.race([this.arrived, setTimeout(ms, undefined, { ref: false })]);
  }

  /** The desk is shut: whatever goes on beside the page waits for ever, and so keeps no process alive. */
  end(): void {
    this.isOver = true;
  }

  /** Waits until nothing was asked for `ms`. */
  async wait(ms: number): Promise<void> {
    while (this.isOver || Date.now() - this.asked < ms)
      await setTimeout(LOOK_EVERY_MS, undefined, { ref: false });
  }
}

/**
 * This run's token: brought in the part of the address that no server sees, taken out of the address at once, and sent in a
 * header. Tabs of this very address hand it to each other; nothing on another port is asked or told.
 */

const KEPT = "desk-token";
const channel = new BroadcastChannel("desk-token");
let token = sessionStorage.getItem(KEPT) ?? "";

/** Takes the token out of the address; asks the other tabs when there is none. */
export async function findToken(): Promise<void> {
  takeFromAddress();
  addEventListener("hashchange", takeFromAddress);
  channel.onmessage = ({ data }: MessageEvent<unknown>) => {
    if (data === "?" && token !== "") channel.postMessage({ token });
    else if (typeof data === "object" && data !== null && "token" in data) keep(String(data.token));
  };
  if (token !== "") return channel.postMessage({ token });
  channel.postMessage("?");
  for (let waited = 0; waited < 200 && token === ""; waited += 20)
    await new Promise((resolve) => setTimeout(resolve, 20));
}

export const tokenNow = (): string => token;

function takeFromAddress(): void {
  const found = /^#open=([\w-]+)$/u.exec(location.hash)?.[1];
  if (found === undefined) return;
  history.replaceState(null, "", "/#visits");
  keep(found);
  channel.postMessage({ token });
}

/** Kept for a reload of this tab alone. */
function keep(found: string): void {
  token = found;
  sessionStorage.setItem(KEPT, found);
}

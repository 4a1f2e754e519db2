/** A file as text, to travel in a request. */
export async function base64(file: Blob): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const turn = 32_768;
  let text = "";
  for (let at = 0; at < bytes.length; at += turn)
    text += String.fromCharCode(...bytes.subarray(at, at + turn));
  return btoa(text);
}

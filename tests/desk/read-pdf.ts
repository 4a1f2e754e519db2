/** A PDF back as words. By the reader that the product itself brings along: another in the same process refuses its worker. */
import { getDocumentProxy } from "unpdf";

interface Item {
  readonly str?: string;
  readonly hasEOL?: boolean;
}

export async function readPdf(
  bytes: Uint8Array,
  password?: string,
): Promise<{ readonly pages: number; readonly text: string }> {
  const document = await getDocumentProxy(Uint8Array.from(bytes), password === undefined ? {} : { password });
  const texts: string[] = [];
  for (let number = 1; number <= document.numPages; number++) {
    const { items }: { items: readonly Item[] } = await (await document.getPage(number)).getTextContent();
    texts.push(items.map(({ str = "", hasEOL = false }) => `${str}${hasEOL ? "\n" : ""}`).join(""));
  }
  const { numPages: pages } = document;
  await document.destroy();
  return { pages, text: texts.join("\n").replace(/\s+/gu, " ") };
}

/** A workbook with given sheets, as the programs of offices write it: strings in a table of their own, dates as styled numbers. */
import JSZip from "jszip";

type Cell = string | number | boolean | Date | null;

export async function workbook(
  sheets: Readonly<Record<string, readonly (readonly Cell[])[]>>,
): Promise<Uint8Array> {
  const zip = new JSZip();
  const names = Object.keys(sheets);
  const strings: string[] = [];
  const main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
  const relations = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
  const packageRelations = "http://schemas.openxmlformats.org/package/2006/relationships";
  const escaped = (text: string) =>
    text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll('"', "&quot;");
  const cellXml = (cell: Cell, at: string): string => {
    if (cell === null) return "";
    if (cell instanceof Date) return `<c r="${at}" s="1"><v>${cell.getTime() / 86_400_000 + 25_569}</v></c>`;
    if (typeof cell === "number") return `<c r="${at}"><v>${cell}</v></c>`;
    if (typeof cell === "boolean") return `<c r="${at}" t="b"><v>${cell ? 1 : 0}</v></c>`;
    strings.push(cell);
    return `<c r="${at}" t="s"><v>${strings.length - 1}</v></c>`;
  };
  for (const [i, rows] of Object.values(sheets).entries()) {
    const lines = rows.map(
      (row, r) =>
        `<row r="${r + 1}">${row.map((cell, c) => cellXml(cell, `${String.fromCharCode(65 + c)}${r + 1}`)).join("")}</row>`,
    );
    zip.file(
      `xl/worksheets/sheet${i + 1}.xml`,
      `<worksheet xmlns="${main}"><sheetData>${lines.join("")}</sheetData></worksheet>`,
    );
  }
  zip.file(
    "xl/workbook.xml",
    `<workbook xmlns="${main}" xmlns:r="${relations}"><sheets>${names.map((name, i) => `<sheet name="${escaped(name)}" sheetId="${i + 1}" r:id="rId${i + 1}"/>`).join("")}</sheets></workbook>`,
  );
  zip.file(
    "xl/_rels/workbook.xml.rels",
    `<Relationships xmlns="${packageRelations}">${names.map((_n, i) => `<Relationship Id="rId${i + 1}" Type="${relations}/worksheet" Target="worksheets/sheet${i + 1}.xml"/>`).join("")}<Relationship Id="rId90" Type="${relations}/styles" Target="styles.xml"/><Relationship Id="rId91" Type="${relations}/sharedStrings" Target="sharedStrings.xml"/></Relationships>`,
  );
  zip.file(
    "xl/styles.xml",
    `<styleSheet xmlns="${main}"><cellXfs count="2"><xf numFmtId="0"/><xf numFmtId="14" applyNumberFormat="1"/></cellXfs></styleSheet>`,
  );
  zip.file(
    "xl/sharedStrings.xml",
    `<sst xmlns="${main}">${strings.map((s) => `<si><t xml:space="preserve">${escaped(s)}</t></si>`).join("")}</sst>`,
  );
  zip.file(
    "[Content_Types].xml",
    `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>`,
  );
  return zip.generateAsync({ type: "uint8array" });
}

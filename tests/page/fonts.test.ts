/** Names of people from everywhere: each is set so that it reads back as it was written, or is refused by name. */
import { expect, test } from "vitest";
import { renderPdf } from "../../src/page/pdf.js";
import { cleanText } from "../../src/page/type/characters.js";
import { countLines, faceFor, textWidth } from "../../src/page/type/fonts.js";
import { letterOf, pagesOf } from "./read-back.js";

const SET: Record<string, string> = {
  Latin:
    "Anneli Thorsby|Wen Castellane|Ilse Brandt|Tomos Achterberg|Marit Solheim-Adeyemi|Oona O’Dell|Bo Li|Zoë Ahn|Noor van ’t Hoff|Ana-Sofía",
  "Latin with accents":
    "Łucja Wiśniewska|Þórunn Ægisdóttir|Søren Ågård|Ðuro Šarić|Žofie Dvořáková|Ğülşah İnce|Ioan Țepeș|Ilze Ķauliņa|Őrsi Hűvös|Françoise Lœuil|Iñigo Ybáñez|Jürgen Groß|Māra Ozoliņa|Ňuša Ľubová|Ŵyn Ŷnys|Ɓala Ɗanjuma|Ŋaja Ɛfua|Ọlá Adébáyọ̀|Ẹniọlá|Ṣọlá|Ċensa Għawdex|Ǧiri Ǯeeʹǩǩ",
  Vietnamese:
    "Nguyễn Thị Ánh|Trần Hữu Phước|Phạm Ngọc Diệp|Đặng Thuỳ Trâm|Lê Văn Khởi|Vũ Quỳnh Như|Hồ Thị Mỵ|Bùi Đức Ảnh|Đỗ Ưng|Ngô Bảo",
  Greek:
    "Ελένη Παπαδοπούλου|Γιώργος Κυριακού|Ἀθηνᾶ Ὑψηλή|Ξένια Ψαρρά|Ζωή Ωραίου|Θάλεια Φωκά|Ἰωάννης ᾨδός|Μυρτώ Ϊκαρη",
  Cyrillic:
    "Ольга Сергеевна|Нїна Їжакевич|Ґалаґан Євген|Ђорђе Љубичић|Џанан Њежић|Ѓорѓи Ќосев|Ўладзімір|Ёлкин Пётр|Әсел Қайратқызы|Төлөн Өмүр|Һәүбән|Ңуркан|Ѫгра|Щукина Эмма",
  Armenian: "Անահիտ Սարգսյան|Գևորգ Հակոբյան|Շուշան Ղազարյան|Եղիշե Չարենց|Օֆելյա Ջանոյան|Ռուզան",
  Georgian: "ნინო ბერიძე|გიორგი ჟღენტი|ქეთევან წერეთელი|შოთა ხუციშვილი|ჯანსუღ ღვინიაშვილი|თამარ",
  Hebrew: "שרה בן דוד|יעקב כהן|מרים אשכנזי|צבי גולן|פנינה ץבר|נועם לוי",
  Arabic:
    "محمد عبد الرحمن|فاطمة الزهراء|يوسف حداد|ليلى قاسم|خالد بن سعيد|مريم طه|زینب گلپایگانی|چنگیز پارسا|ٹیپو ڈار|عائشة ؤلد",
};

const REFUSED: Record<string, string> = {
  Han: "王小明|陳怡君|山本花子|李娜|張偉|劉洋|欧阳娜|佐藤健",
  Hangul: "김민준|이서연|박지후|최수아|정하윤|강도윤",
  Kana: "さくら|はなこ|タロウ|ミナ|ひかり|ケンジ",
  Devanagari: "सीता शर्मा|राम|अनिल|कविता|प्रिया|हेमन्त",
  Thai: "สมชาย|มาลี|ณัฐ|พิมพ์|วิชัย|ธิดา",
  Tamil: "கண்ணன்|மீனா|வேலு|லதா|ராஜா|அனிதா",
  Bengali: "রহিম|সুমনা|অনিতা|জয়া|মিতা|কমল",
  Ethiopic: "ሰላም|አበበ|ፀሐይ|ሐና|ዮናስ|ማርታ",
  Khmer: "សុខា|ចន្ថា|ធីតា|វណ្ណា",
  Emoji: "👩‍⚕️|🦱|👨‍👩‍👧|🇳🇴",
};

function names(table: Record<string, string>): string[] {
  return Object.values(table).flatMap((list) => list.split("|"));
}

test("there are names enough", () => {
  expect(Object.keys({ ...SET, ...REFUSED }).length).toBeGreaterThanOrEqual(12);
  expect(new Set([...names(SET), ...names(REFUSED)]).size).toBeGreaterThanOrEqual(140);
});

/** No-break spaces hold right-to-left names together. */
function spoken(text: string): string {
  return text.normalize("NFC").replace(/\s+/g, " ");
}

test.each(Object.entries(SET))(
  "%s names are set and read back, upright, bold and italic",
  async (_, list) => {
    const html = list
      .split("|")
      .map((name) => `<p>[${name}] <strong>{${name}}</strong> <em>/${name}/</em></p>`)
      .join("");
    const pages = await pagesOf(letterOf(html, { identifiers: `${list.split("|")[0]} · born 1991` }));
    const text = spoken(pages.map((page) => page.text).join(" "));
    for (const name of list.split("|").map(spoken)) {
      for (const wanted of [`[${name}]`, `{${name}}`, `/${name}/`]) expect(text).toContain(wanted);
    }
    expect(text).toContain(`${spoken(list.split("|")[0] ?? "")} · born 1991`);
  },
);

test.each(Object.entries(REFUSED))("%s names are refused by character and code point", async (_, list) => {
  for (const name of list.split("|")) {
    const { value, problems } = await renderPdf(letterOf(`<h1>Letter</h1>\n<p class="subject">${name}</p>`));
    expect(value).toBeUndefined();
    expect(problems.length).toBeGreaterThan(0);
    for (const problem of problems) {
      expect(problem.id).toBe("no-glyph");
      expect(problem.message).toMatch(/U\+[0-9A-F]{4,6}/);
      expect(problem.message).toContain("<p.subject>");
      expect(problem.line).toBe(2);
      expect(name.normalize("NFC")).toContain(problem.found);
    }
  }
});

test("a name at the foot or in a drawing is refused as clearly", async () => {
  const foot = await renderPdf(letterOf("<p>a</p>", { identifiers: "王小明" }));
  expect(foot.problems[0]?.message).toContain("the identifiers at the foot");
  const drawing =
    '<svg width="60" height="20" role="img" aria-label="a"><text x="2" y="12">山本</text></svg>';
  const { problems } = await renderPdf(letterOf(`<figure>${drawing}</figure>`));
  expect(problems.map(({ id }) => id)).toContain("no-glyph");
});

test("signs that the body face lacks come from another", async () => {
  const [page] = await pagesOf(letterOf("<p>≥ 4 and ≤ 9, ≈ 5 → 6 ↑ ↓ ✓ ☐ ● µm cm² ½ ±</p>"));
  expect(page?.text).toContain("≥ 4 and ≤ 9, ≈ 5 → 6 ↑ ↓ ✓ ☐ ● μm cm² ½ ±");
  const drawing =
    '<svg width="60" height="20" role="img" aria-label="a"><text x="2" y="12" font-family="Georgia">≥ 10 → 5</text></svg>';
  const [drawn] = await pagesOf(letterOf(`<figure>${drawing}</figure>`));
  expect(drawn?.text).toContain("≥ 10 → 5");
});

test("decomposed text is composed, hidden and overriding characters are left out with a warning", async () => {
  expect(cleanText("Zoe\u0308 \u202eevil\u202c\u0007 so\u00adft \u200bx\ufeff")).toBe("Zoë evil soft x");
  const { value, problems } = await renderPdf(letterOf("<p>Ma\u202erit\u202c</p>"));
  expect(value).toBeDefined();
  expect(problems.map(({ id, severity }) => [id, severity])).toEqual([["hidden-characters", "warning"]]);
});

test("numbers inside a right-to-left passage keep their place", async () => {
  const [page] = await pagesOf(letterOf("<p>Lives at רחוב הרצל 12 תל אביב now</p>"));
  const at = (word: string) => page?.items.find(({ text }) => text.includes(word))?.leftMm ?? Number.NaN;
  expect(at("הרצל")).toBeGreaterThan(at("12"));
  expect(at("12")).toBeGreaterThan(at("אביב"));
  expect(at("now")).toBeGreaterThan(at("הרצל"));
});

test("a right-to-left word longer than a line is refused", async () => {
  const { value, problems } = await renderPdf(letterOf(`<p>${"שלום".repeat(16)}</p>`));
  expect(value === undefined).toBe(true);
  expect(problems.map(({ id }) => id)).toEqual(["right-to-left"]);
});

test("widths and line counts agree with the page", () => {
  expect(faceFor("Łódź", "normal")).toBe("Noto Sans");
  expect(faceFor("≥", "normal")).toBe("DejaVu Sans");
  expect(textWidth("0123456789", 10)).toBeCloseTo(10 * textWidth("0", 10), 6);
  expect(countLines("one two three", 1000, 10)).toBe(1);
  expect(countLines("one two three\nfour", 1000, 10)).toBe(2);
  expect(countLines("one two three", textWidth("two thre", 10), 10)).toBe(2);
});

/** A referral letter and a handout of invented people, long enough to show every element of the vocabulary on real pages. */
import type { Letter } from "../../src/letter/document.js";

const MAP = `<svg xmlns="http://www.w3.org/2000/svg" width="200" height="190" viewBox="0 0 200 190" role="img" aria-label="Scalp seen from above. A patch of 32 by 25 mm on the left parietal region, pin 1; a second of 14 by 12 mm on the occipital region, pin 2.">
<defs><pattern id="hatch" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="5" stroke="#1b1f22" stroke-width="1.1"/></pattern></defs>
<ellipse cx="100" cy="95" rx="70" ry="86" fill="none" stroke="#1b1f22" stroke-width="1.4"/>
<path d="M100 9 L94 1 L106 1 Z" fill="#1b1f22"/>
<path d="M35 62 C70 50 130 50 165 62 M31 112 C70 124 130 124 169 112" fill="none" stroke="#98a3a6" stroke-width="0.8" stroke-dasharray="3 2"/>
<ellipse cx="60" cy="98" rx="15" ry="11.5" fill="url(#hatch)" stroke="#1b1f22" stroke-width="1"/>
<ellipse cx="104" cy="150" rx="7" ry="6" fill="url(#hatch)" stroke="#1b1f22" stroke-width="1"/>
<circle cx="38" cy="82" r="8" fill="#ffffff" stroke="#1b1f22"/><text x="38" y="85.5" text-anchor="middle" font-family="Noto Sans" font-size="10">1</text>
<circle cx="126" cy="160" r="8" fill="#ffffff" stroke="#1b1f22"/><text x="126" y="163.5" text-anchor="middle" font-family="Noto Sans" font-size="10">2</text>
</svg>`;

const LOGO = `<svg xmlns="http://www.w3.org/2000/svg" width="44" height="44" viewBox="0 0 44 44" role="img" aria-label="Tarn Sound Hair and Scalp Clinic"><circle cx="22" cy="22" r="20.5" fill="none" stroke="#1d4a58" stroke-width="2"/><path d="M6 27 C12 20 17 34 22 27 S33 20 38 27 M10 19 C15 13 18 25 22 19 S30 13 34 19" fill="none" stroke="#1d4a58" stroke-width="1.8"/></svg>`;

function pictogram(inside: string): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="40" height="40" viewBox="0 0 40 40" aria-hidden="true"><rect x="1" y="1" width="38" height="38" rx="6" fill="none" stroke="#1d4a58" stroke-width="1.2"/>${inside}</svg>`;
}

const LETTERHEAD = `<header class="letterhead">${LOGO}<p>Tarn Sound Hair and Scalp Clinic</p><p>12 Ropewalk Quay<br>Tarn Sound TS1 4HX</p><p>Telephone 01632 960 141<br>letters@tarnsound.example</p></header>`;

export const REFERRAL: Letter = {
  kind: "referral-letter",
  title: "Referral letter TS-2026-0141",
  language: "en-GB",
  paper: "A4",
  typeSize: "compact",
  addressWindow: "uk-dl",
  foldMarks: true,
  draftMark: null,
  identifiers: "Marit Solheim-Adeyemi · born 4 July 1991 · TS-40417 · letter of 12 March 2026",
  confidentiality: "Confidential. If this reached you by mistake, please tell the clinic: 01632 960 141.",
  pageWords: "Page {page} of {pages}",
  date: "2026-03-12",
  photos: {},
  html: `${LETTERHEAD}
<address class="window">Dr Ilse Brandt<br>Quayside Practice<br>1 Fish Street<br>Tarn Sound<br>TS1 1AA</address>
<table class="reference"><tbody>
<tr><th scope="row">Date</th><td>12 March 2026</td></tr>
<tr><th scope="row">Our reference</th><td>TS-2026-0141</td></tr>
<tr><th scope="row">Seen by</th><td>Anneli Thorsby</td></tr>
</tbody></table>
<h1>Referral after scalp dermoscopy</h1>
<p>Dear Dr Brandt,</p>
<p class="subject">Ms Marit Solheim-Adeyemi, born 4 July 1991, clinic number TS-40417<br>4 Ropewalk Steps, Tarn Sound, TS2 4QF</p>
<aside class="summary"><h2>In short</h2>
<p><strong>Probable alopecia areata</strong>, patchy, active at the margin of the larger patch.</p>
<ol><li>General practitioner: please check thyroid function and ferritin <strong>within 4 weeks</strong>.</li><li>Clinic: review with repeat dermoscopy in 12 weeks.</li></ol>
<p>Nothing seen that suggests scarring or fungal infection.</p></aside>
<h2>Reason and history</h2>
<p>Ms Solheim-Adeyemi, a net-maker of 34, noticed a new patch of hair loss five weeks ago while tying her hair back for work. It came on suddenly and has spread since. She reports more shedding than usual and a slight itch (2 of 10), no pain and no burning. She takes levothyroxine for hypothyroidism. A maternal aunt had patchy hair loss as a young woman. She has not changed how she cares for her hair, and she has not had a fever, an operation or a strict diet in the last six months.</p>
<h2>Findings by site</h2>
<table data-widths="18 44 38"><caption>Dermoscopy at 20-fold magnification, polarised light, dry contact</caption>
<thead><tr><th scope="col">Site</th><th scope="col">Seen</th><th scope="col">Looked for and not seen</th></tr></thead>
<tbody>
<tr><th scope="row">1 Left parietal</th><td>Several exclamation mark hairs at the margin; black dots, 14 in 2 fields of view; few yellow dots</td><td>Broken hairs, perifollicular scale, comma or corkscrew hairs</td></tr>
<tr><th scope="row">2 Occipital</th><td>Few short regrowing hairs, single black dot</td><td>Exclamation mark hairs, scale, loss of follicular openings</td></tr>
<tr><th scope="row">3 Frontal hairline</th><td>Normal density, shafts alike in calibre along their length</td><td>Perifollicular redness or scale</td></tr>
</tbody></table>
<div class="beside" data-widths="45 55"><figure>${MAP}<figcaption>Sites examined, seen from above. Hatching marks hair loss.</figcaption></figure>
<table data-widths="* 28 34"><caption>Measurements at site 1</caption><thead><tr><th scope="col">Measure</th><th scope="col" class="number">Found</th><th scope="col">Range</th></tr></thead>
<tbody><tr><td>Hairs per cm²</td><td class="number">84 ± 9</td><td>≥ 120 expected</td></tr><tr><td>Thin hairs</td><td class="number">11 %</td><td>5 to 17 %</td></tr><tr><td>Pulled hairs</td><td class="number">8 of 60</td><td>≤ 2 of 60</td></tr></tbody></table></div>
<h2>Why this impression</h2>
<p>Exclamation mark hairs at the margin together with black dots and yellow dots speak for active alopecia areata. A slowly fading trichotillomania was considered: the hairs are not bizarrely broken and there are no coiled or flame hairs. Tinea capitis is unlikely without scale or comma hairs. Follicular openings are present throughout, so there is no sign of scarring.</p>
<h2>Not assessed</h2>
<ul><li>Eyebrows, eyelashes and nails.</li><li>Hair pull test at the occipital site.</li></ul>
<h2>Plan</h2>
<table data-widths="24 52 24"><thead><tr><th scope="col">Who</th><th scope="col">What</th><th scope="col">By when</th></tr></thead><tbody>
<tr><th scope="row">General practitioner</th><td>Thyroid function and ferritin</td><td>9 April 2026</td></tr>
<tr><th scope="row">Patient</th><td>Take photographs of both patches every four weeks, in daylight</td><td>From today</td></tr>
<tr><th scope="row">Clinic</th><td>Repeat dermoscopy of both patches</td><td>4 June 2026</td></tr></tbody></table>
<aside class="caution"><h3>Please bear in mind</h3><p>Dermoscopy supports the clinical examination and does not replace histology. If scarring is suspected later, early specialist review and a biopsy are advised. Treatment is for the prescribing clinician to choose, following local guidance.</p></aside>
<p>The patient has had a handout with this information and agrees to this letter. She would like a copy. Please call <a href="tel:+441632960141">01632 960 141</a> with any question.</p>
<section class="signature"><p>Yours sincerely,</p><p><strong>Anneli Thorsby</strong><br>Consultant dermatologist, registration 7 000 141</p></section>
<p class="small">Copies: Ms Solheim-Adeyemi; Dr Tomos Achterberg, Northgate Surgery</p>`,
};

export const HANDOUT: Letter = {
  ...REFERRAL,
  kind: "patient-handout",
  title: "What we saw, TS-2026-0141",
  typeSize: "reading",
  addressWindow: "none",
  foldMarks: false,
  html: `${LETTERHEAD}
<h1>What we saw on your scalp</h1>
<p>For Marit Solheim-Adeyemi. You came to see Anneli Thorsby on 12 March 2026. This sheet tells you what we looked at, what we found, and what comes next. Keep it, and bring it when you see us again.</p>
<aside class="summary"><h2>The short version</h2><p>Your clinician thinks it is likely that you have <strong>alopecia areata</strong>. The hair roots are resting. They are still there.</p></aside>
<h2>Where we looked</h2>
<figure>${MAP}<figcaption>Your head from above. The striped spots are where hair is missing.</figcaption></figure>
<h2>What we found</h2>
<ul class="pictured">
<li>${pictogram('<path d="M20 34 L18.6 8 M20 34 L21.4 8" stroke="#1b1f22" stroke-width="1.6"/>')} Short hairs that get thinner towards the skin. They show that the patch is still changing.</li>
<li>${pictogram('<circle cx="14" cy="22" r="3.4" fill="#1b1f22"/><circle cx="26" cy="17" r="3.4" fill="#1b1f22"/>')} Black dots. Each is a hair that broke off right at the skin.</li>
<li>${pictogram('<circle cx="20" cy="20" r="6" fill="none" stroke="#1b1f22" stroke-width="1.6"/>')} Yellow dots. Each is a small opening in the skin that is empty for now.</li>
</ul>
<h2>What happens next</h2>
<table data-widths="26 46 28"><thead><tr><th scope="col">Who</th><th scope="col">What</th><th scope="col">When</th></tr></thead><tbody>
<tr><th scope="row">Your own doctor</th><td>Takes a blood sample to check your thyroid and your iron</td><td>In the next 4 weeks</td></tr>
<tr><th scope="row">You</th><td>Take a photo of both spots every 4 weeks, in daylight</td><td>From today</td></tr>
<tr><th scope="row">Our clinic</th><td>Looks at both spots again</td><td>4 June 2026</td></tr></tbody></table>
<h2>When to get help</h2>
<aside class="caution"><h3>Call us the same day if you have</h3><ul><li>a spot that is hot, swollen or sore, or weeps</li><li>a fever with a sore scalp</li></ul></aside>
<h2>What this check cannot tell</h2>
<p>Looking through a lens shows the skin and the hair. It does not show what lies deeper. Sometimes a small skin sample is needed to be sure.</p>
<h2>Questions you may want to ask</h2>
<ul><li>What can I do while we wait?</li><li>How will we know if it is getting better?</li><li>Could this come back?</li></ul>
<h2>Words explained</h2>
<dl><dt>Alopecia areata</dt><dd>A kind of hair loss in round spots. The body's own defence upsets the hair roots for a while.</dd><dt>Dermoscopy</dt><dd>Looking at the skin through a strong lens with its own light.</dd></dl>
<section class="keep"><h2>How to reach us</h2><p>Call 01632 960 141 or write to <a href="mailto:letters@tarnsound.example">letters@tarnsound.example</a>.</p></section>`,
};

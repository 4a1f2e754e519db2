/** Units of laboratory values as people write them -> UCUM codes. The pairs are from memory of the UCUM tables. */

/** Units whose written form is their code. */
const SAME = [
  "%",
  "g/L",
  "g/dL",
  "mg/L",
  "mg/dL",
  "ug/L",
  "ug/dL",
  "ng/mL",
  "ng/L",
  "pg/mL",
  "mol/L",
  "mmol/L",
  "umol/L",
  "nmol/L",
  "pmol/L",
  "mm/h",
  "fL",
  "pg",
  "mmol/mol",
  "10*9/L",
  "10*12/L",
] as const;

/** Written otherwise; international units have brackets in UCUM, and U in everyday use for hormones means them. */
const OTHERWISE: Readonly<Record<string, string>> = {
  "iu/l": "[IU]/L",
  "iu/ml": "[IU]/mL",
  "miu/l": "m[IU]/L",
  "mu/l": "m[IU]/L",
  "kiu/l": "k[IU]/L",
  "u/l": "U/L",
  "10^9/l": "10*9/L",
  "10^12/l": "10*12/L",
  "x10^9/l": "10*9/L",
  percent: "%",
};

/** The UCUM code of a written unit; undefined when it is not one we are sure of, since a wrong code is worse than none. */
export function ucumOf(unit: string | undefined): string | undefined {
  if (unit === undefined) return "1";
  const written = unit.normalize("NFKC").replace(/μ/gu, "u").replace(/mcg/giu, "ug").replace(/\s+/gu, "");
  const same = SAME.find((code) => code.toLowerCase() === written.toLowerCase());
  return same ?? OTHERWISE[written.toLowerCase()];
}

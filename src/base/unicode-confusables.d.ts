/** The package's own types are under a name that the compiler does not look for. */
declare module "unicode-confusables" {
  const confusables: {
    /** The text with each character replaced by what it looks like. */
    readonly rectifyConfusion: (text: string) => string;
  };
  export default confusables;
}

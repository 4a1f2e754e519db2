/** The few parts of jstat that counting.ts and its neighbours use. */
declare module "jstat" {
  interface Cdf1 {
    cdf(x: number, a: number): number;
    inv(p: number, a: number): number;
  }
  interface Cdf2 {
    cdf(x: number, a: number, b: number): number;
    inv(p: number, a: number, b: number): number;
  }
  interface JStat {
    readonly chisquare: Cdf1;
    readonly studentt: Cdf1;
    readonly beta: Cdf2;
    readonly normal: Cdf2;
    gammaln(x: number): number;
  }
  const jstat: { readonly jStat: JStat };
  export default jstat;
}

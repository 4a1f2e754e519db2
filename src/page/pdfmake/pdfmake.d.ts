/** Modules of pdfmake have no types of their own; engine.ts says what we use of them. */
declare module "pdfmake/js/*.js" {
  const module: { readonly default: unknown };
  export default module;
}

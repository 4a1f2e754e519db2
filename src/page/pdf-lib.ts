/** The parts of pdf-lib that we use, for finished PDFs. The build bundles the library into this file, so that an installation stays small. */
export {
  AFRelationship,
  PDFArray,
  PDFDict,
  PDFDocument,
  PDFName,
  PDFNull,
  PDFNumber,
  PDFObject,
  PDFRef,
  PDFStream,
  PDFString,
} from "@cantoo/pdf-lib";

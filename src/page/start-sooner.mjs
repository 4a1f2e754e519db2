/** Part of the build: changes to libraries as they are bundled, which spare each start work that Node does faster or nobody asked for. */
import { readFileSync } from "node:fs";

/** Tables of Unicode come compressed: unpacked in JavaScript, they take as long as setting a page. */
const INFLATE = `
  const { inflateRawSync } = require("node:zlib");
  module.exports = (packed, room) => {
    const unpacked = inflateRawSync(packed);
    room.set(unpacked);
    return unpacked.length < room.length ? room.slice(0, unpacked.length) : room;
  };
`;

export const startSooner = {
  name: "start sooner",
  setup(bundling) {
    bundling.onLoad({ filter: /[\\/]tiny-inflate[\\/]index\.js$/ }, () => ({ contents: INFLATE }));
    // Only a locked PDF needs the cipher, whose tables are worked out when it is loaded.
    bundling.onLoad({ filter: /[\\/]pdfkit[\\/]js[\\/]pdfkit\.js$/ }, ({ path }) => {
      const asked = "require('@noble/ciphers/aes')";
      const code = readFileSync(path, "utf8");
      const later = code.replace(`var aes = ${asked};`, "").replaceAll(/\baes\.(?=cbc|ecb)/g, `${asked}.`);
      if (later.length === code.length || /\baes\b(?!')/.test(later))
        throw new Error("pdfkit asks for its cipher in another way");
      return { contents: later };
    });
  },
};

// Prints as JSON what ag-psd, a reader and writer with a parser of its own, finds in the layered
// file named first; if a second name is given, writes what it read to that file.
// Pixels are printed as base64 of the bytes of red, green, blue, alpha, the lower byte first.
const fs = require('fs');
const { initializeCanvas, readPsd, writePsdBuffer } = require('ag-psd');

const [source, copy] = process.argv.slice(2);
const noCanvas = () => { throw new Error('there is no canvas here'); };
const plainPixels = (width, height) => ({ width, height, data: new Uint8ClampedArray(4 * width * height) });
initializeCanvas(noCanvas, plainPixels);

const options = { useImageData: true, useRawThumbnail: true, throwForMissingFeatures: true };
const file = readPsd(fs.readFileSync(source), options);
const printed = JSON.stringify(file, (key, value) => ArrayBuffer.isView(value)
  ? Buffer.from(value.buffer, value.byteOffset, value.byteLength).toString('base64')
  : value);
process.stdout.write(printed);
if (copy) fs.writeFileSync(copy, writePsdBuffer(file, { noBackground: true }));

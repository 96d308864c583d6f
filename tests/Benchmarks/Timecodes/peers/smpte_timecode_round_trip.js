// Frame index -> string -> frame index at 30000/1001 drop-frame through npm smpte-timecode.
// Prints the median of nine runs in nanoseconds a round trip, the sum of the indexes, and a hash of all labels
// (32-bit FNV-1a over their characters), for comparison with other libraries.
const Timecode = require('smpte-timecode');

const day = 2589408;
const runs = 9;
const labels = Number(process.argv[2]);
const stride = Number(process.argv[3]);
const times = [];
let sum = 0;
for (let run = -1; run < runs; run++) {
  let index = 0;
  sum = 0;
  const start = process.hrtime.bigint();
  for (let i = 0; i < labels; i++) {
    const text = new Timecode(index, 29.97, true).toString();
    sum += new Timecode(text, 29.97, true).frameCount;
    index += stride;
    if (index >= day) index -= day;
  }
  if (run >= 0) times.push(Number(process.hrtime.bigint() - start) / labels);
}
let hash = 2166136261;
for (let i = 0, index = 0; i < labels; i++) {
  const text = new Timecode(index, 29.97, true).toString();
  for (let c = 0; c < text.length; c++) hash = Math.imul(hash ^ text.charCodeAt(c), 16777619);
  index += stride;
  if (index >= day) index -= day;
}
times.sort((a, b) => a - b);
console.log(times[runs >> 1].toFixed(2), sum, hash >>> 0);

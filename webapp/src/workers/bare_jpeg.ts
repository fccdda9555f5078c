// Leaves of a JPEG what its pixels need: some browsers write EXIF of their own into what a canvas gives.
//
// Parts of a JPEG: ITU-T T.81 annex B. The server refuses any other part (barnlight/media/containers.py).

const MARKER = 0xff, SCAN = 0xda, END = 0xd9, COMMENT = 0xfe;
const [APP0, APP14, APP_LAST] = [0xe0, 0xee, 0xef];

/** The same picture without notes, thumbnails and colour profiles. What is no JPEG comes back as it is. */
export function bareJpeg(bytes: ArrayBuffer): ArrayBuffer {
  const all = new Uint8Array(bytes);
  if (all[0] !== MARKER || all[1] !== 0xd8) return bytes;
  const kept: Uint8Array[] = [all.subarray(0, 2)];
  let at = 2;
  while (at + 4 <= all.length && all[at] === MARKER && all[at + 1] !== SCAN && all[at + 1] !== END) {
    const marker = all[at + 1]!;
    const end = at + 2 + ((all[at + 2]! << 8) | all[at + 3]!);
    const isNote = marker === COMMENT || (marker > APP0 && marker <= APP_LAST && marker !== APP14);
    if (!isNote) kept.push(all.subarray(at, end));
    at = end;
  }
  kept.push(all.subarray(at));
  const bare = new Uint8Array(kept.reduce((sum, part) => sum + part.length, 0));
  let filled = 0;
  for (const part of kept) {
    bare.set(part, filled);
    filled += part.length;
  }
  return bare.buffer;
}

/**
 * The code words in the rings of the marks.
 *
 * A word is a number of 16 bits; bit j is the ring sector that starts j/16 of a turn counter-clockwise from the mark's
 * bright axis. A reader does not know which end of the axis it started from, nor whether the picture is mirrored, so
 * each word must stay apart from the half-turned and mirrored forms of all words, its own included. All differ in at
 * least four sectors: three sectors read wrongly are noticed, one is repaired.
 */
export const CODE_SECTORS = 16;
export const CODE_DISTANCE = 4;

const FULL = (1 << CODE_SECTORS) - 1;

/** The word as read from the other end of the bright axis. */
export function halfTurned(word: number): number {
  const half = CODE_SECTORS / 2;
  return ((word << half) | (word >>> (CODE_SECTORS - half))) & FULL;
}

/** The word as read in a mirrored picture. */
export function mirrored(word: number): number {
  let out = 0;
  for (let j = 0; j < CODE_SECTORS; j++) if (word & (1 << j)) out |= 1 << (CODE_SECTORS - 1 - j);
  return out;
}

/** How many sectors differ. */
export function codeDistance(a: number, b: number): number {
  // Bits counted in pairs, fours, eights (Warren, Hacker's Delight, 5-1).
  let x = (a ^ b) & FULL;
  x -= (x >> 1) & 0x5555;
  x = (x & 0x3333) + ((x >> 2) & 0x3333);
  x = (x + (x >> 4)) & 0x0f0f;
  return (x + (x >> 8)) & 0x1f;
}

/** How many sectors are lit. */
export function bitCount(word: number): number {
  return codeDistance(word, 0);
}

/**
 * The first `count` words in increasing order that keep the distance (a greedy lexicographic code; Conway and Sloane 1986).
 * Words have 6 to 10 lit sectors, so that every ring shows both bright and black.
 */
export function codeWords(count: number): readonly number[] {
  const words: number[] = [];
  for (let word = 0; word <= FULL && words.length < count; word++) {
    const lit = bitCount(word);
    if (lit < 6 || lit > 10) continue;
    if (isApart(word, words)) words.push(word);
  }
  if (words.length < count) throw new RangeError(`only ${words.length} code words exist, ${count} were asked for`);
  return words;
}

/** Whether a word keeps the distance from its own other forms, and it and they from all of `words`. */
function isApart(word: number, words: readonly number[]): boolean {
  const turned = halfTurned(word);
  const reflected = mirrored(word);
  const both = mirrored(turned);
  if (codeDistance(word, turned) < CODE_DISTANCE) return false;
  if (codeDistance(word, reflected) < CODE_DISTANCE || codeDistance(word, both) < CODE_DISTANCE) return false;
  for (const other of words) {
    if (codeDistance(other, word) < CODE_DISTANCE || codeDistance(other, turned) < CODE_DISTANCE) return false;
    if (codeDistance(other, reflected) < CODE_DISTANCE || codeDistance(other, both) < CODE_DISTANCE) return false;
  }
  return true;
}

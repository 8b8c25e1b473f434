/**
 * A seeded random source: the same seed gives the same numbers on every machine; there is no seed from a clock.
 *
 * Generator: sfc32 (Chris Doty-Humphrey, PractRand), seeded through splitmix32. Passes PractRand; period at least 2^64.
 */
export interface RandomSource {
  /** Uniform in [0, 1), 32 random bits. */
  uniform(): number;
  /** Uniform in [low, high). */
  between(low: number, high: number): number;
  /** Normal with mean 0 and standard deviation 1 (Box and Muller 1958). */
  normal(): number;
  /** A further source, independent of how many numbers this one has given since. */
  fork(label: number): RandomSource;
}

function splitMix32(state: number): () => number {
  return () => {
    state = (state + 0x9e3779b9) | 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 16), 0x21f0aaad);
    z = Math.imul(z ^ (z >>> 15), 0x735a2d97);
    return (z ^ (z >>> 15)) | 0;
  };
}

/**
 * @example
 * const random = createRandom(7);
 * random.normal();
 */
export function createRandom(seed: number): RandomSource {
  const mix = splitMix32(seed | 0);
  let a = mix();
  let b = mix();
  let c = mix();
  let counter = 1;
  let spare: number | undefined;

  const bits = (): number => {
    const t = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + t) | 0;
    return t >>> 0;
  };
  for (let i = 0; i < 12; i++) bits();

  const uniform = () => bits() / 4294967296;
  const normal = () => {
    if (spare !== undefined) {
      const value = spare;
      spare = undefined;
      return value;
    }
    const radius = Math.sqrt(-2 * Math.log(1 - uniform()));
    const angle = 2 * Math.PI * uniform();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
  return {
    uniform,
    between: (low, high) => low + (high - low) * uniform(),
    normal,
    fork: (label) => createRandom(Math.imul(seed | 0, 0x01000193) ^ Math.imul(label | 0, 0x9e3779b1) ^ 0x5bd1e995),
  };
}

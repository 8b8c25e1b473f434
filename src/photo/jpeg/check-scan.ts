/**
 * Decodes the codes of one scan without making pixels of them, and counts.
 *
 * A bit that is wrong makes the codes after it mean something else until they fall into step again. By then there are
 * most often more or fewer blocks than the picture has, and every later block has slipped sideways: the numbers that were
 * measured would be wrong by whole blocks. Decoders show such a picture without a word; here the count must come out.
 *
 * Source: ITU-T T.81 (1992), F.2 (sequential), G.1 and G.2 (progressive), E.1.4 and E.2.4 (restart).
 */
import { BitReader } from './bit-reader.ts';
import type { HuffmanTable } from './huffman-table.ts';
import type { CodingTables, Frame, FrameComponent } from './jpeg-frame.ts';

export interface Scan {
  readonly parts: readonly {
    readonly component: FrameComponent;
    readonly dc: HuffmanTable | undefined;
    readonly ac: HuffmanTable | undefined;
    readonly meanStep: number;
  }[];
  readonly first: number;
  readonly last: number;
  readonly isRefinement: boolean;
  readonly bit: number;
}

/** Eight bits of brightness: a mean of a block of 8 x 8 lies within -1024..1016 before it is rounded. */
const LOWEST_MEAN = -1024;
const HIGHEST_MEAN = 1016;
/** What encoders that count with few bits may be wrong by. */
const MEAN_ALLOWANCE = 24;
/** Encoders exist that let white overshoot, so that what is rounded away does not ring (at most 31 steps of brightness). */
const OVERSHOOT = 8 * 31;
const MOST_DC_BITS = 11;
const MOST_AC_BITS = 10;

/** `segment`: the scan's header after its length. Undefined where its values do not go together. */
export function readScan(segment: Uint8Array, frame: Frame, tables: CodingTables): Scan | undefined {
  const count = segment[0]!;
  if (count < 1 || count > 4 || segment.length < 4 + 2 * count) return undefined;
  const [first, last, bits] = segment.subarray(1 + 2 * count) as unknown as [number, number, number];
  const parts: Scan['parts'][number][] = [];
  for (let i = 0; i < count; i++) {
    const component = frame.components.find(({ id }) => id === segment[1 + 2 * i]);
    if (component === undefined || parts.some((part) => part.component === component)) return undefined;
    const choice = segment[2 + 2 * i]!;
    const meanStep = tables.meanStep[component.tableNumber];
    if (meanStep === undefined) return undefined;
    parts.push({ component, dc: tables.dc[choice >> 4], ac: tables.ac[choice & 15], meanStep });
  }
  const scan = { parts, first, last, isRefinement: bits >> 4 > 0, bit: bits & 15 };
  const isOrdered = frame.isProgressive ? followsEarlierScans(scan, bits >> 4) : isSequential(scan);
  return isOrdered && hasTables(scan, frame) ? scan : undefined;
}

function isSequential({ parts, first, last, isRefinement, bit }: Scan): boolean {
  const isWhole = first === 0 && last === 63 && !isRefinement && bit === 0;
  if (!isWhole || parts.some(({ component }) => component.precision[0] !== -1)) return false;
  for (const { component } of parts) component.precision.fill(0);
  return true;
}

/** Each bit of each coefficient is sent once, from the highest sent down, the mean first. */
function followsEarlierScans({ parts, first, last, bit }: Scan, before: number): boolean {
  if (first > last || last > 63 || bit > 13 || (first === 0 && last > 0)) return false;
  if (first > 0 && parts.length > 1) return false;
  if (before > 0 && bit !== before - 1) return false;
  for (const { component } of parts) {
    if (first > 0 && component.precision[0] === -1) return false;
    for (let k = first; k <= last; k++) {
      if (component.precision[k] !== (before > 0 ? before : -1)) return false;
      component.precision[k] = bit;
    }
  }
  return true;
}

function hasTables({ parts, first, last, isRefinement }: Scan, { isProgressive }: Frame): boolean {
  const needsDc = first === 0 && !(isProgressive && isRefinement);
  return parts.every(({ dc, ac }) => (!needsDc || dc !== undefined) && (last === 0 || ac !== undefined));
}

/** Where the marker behind the scan stands; `undefined` where what is coded is not what the frame promises. */
export function checkScan(
  bytes: Uint8Array,
  start: number,
  scan: Scan,
  frame: Frame,
  restartInterval: number,
): number | undefined {
  const decoder = new ScanDecoder(scan, frame);
  const units = decoder.units;
  let at = start;
  for (let done = 0, restarts = 0; done < units; restarts++) {
    const until = restartInterval > 0 ? Math.min(units, done + restartInterval) : units;
    const reader = new BitReader(bytes, at);
    if (!decoder.decodeUnits(reader, done, until)) return undefined;
    done = until;
    const marker = reader.close();
    if (marker === undefined) return undefined;
    at = marker;
    if (done === units) break;
    if (bytes[at + 1] !== 0xd0 + (restarts & 7)) return undefined;
    at += 2;
  }
  return at;
}

class ScanDecoder {
  readonly units: number;
  readonly #scan: Scan;
  readonly #frame: Frame;
  /** Blocks still to come that have no further coefficients (progressive). */
  #endRun = 0;

  constructor(scan: Scan, frame: Frame) {
    this.#scan = scan;
    this.#frame = frame;
    const [only] = scan.parts;
    this.units =
      scan.parts.length === 1
        ? only!.component.blocksWide * only!.component.blocksHigh
        : frame.unitsWide * frame.unitsHigh;
  }

  decodeUnits(reader: BitReader, from: number, until: number): boolean {
    const { parts } = this.#scan;
    this.#endRun = 0;
    for (const { component } of parts) component.dc = 0;
    const [only] = parts;
    for (let unit = from; unit < until; unit++) {
      if (parts.length === 1) {
        const { blocksWide, paddedWide } = only!.component;
        const block = Math.floor(unit / blocksWide) * paddedWide + (unit % blocksWide);
        if (!this.#decodeBlock(reader, only!, block)) return false;
      } else if (!this.#decodeInterleaved(reader, unit)) return false;
      if (reader.isOverrun) return false;
    }
    // A run of ended blocks that leads beyond the picture was never written by an encoder.
    return this.#endRun === 0;
  }

  #decodeInterleaved(reader: BitReader, unit: number): boolean {
    const column = unit % this.#frame.unitsWide;
    const row = (unit - column) / this.#frame.unitsWide;
    for (const part of this.#scan.parts) {
      const { across, down, paddedWide } = part.component;
      for (let v = 0; v < down; v++) {
        for (let h = 0; h < across; h++) {
          const block = (row * down + v) * paddedWide + column * across + h;
          if (!this.#decodeBlock(reader, part, block)) return false;
        }
      }
    }
    return true;
  }

  #decodeBlock(reader: BitReader, part: Scan['parts'][number], block: number): boolean {
    const { isRefinement, first } = this.#scan;
    if (!this.#frame.isProgressive) return this.#decodeMean(reader, part) && decodeRest(reader, part.ac!);
    if (first === 0) {
      if (!isRefinement) return this.#decodeMean(reader, part);
      reader.take(1);
      return true;
    }
    return isRefinement ? this.#refine(reader, part, block) : this.#decodeBand(reader, part, block);
  }

  #decodeMean(reader: BitReader, { component, dc, meanStep }: Scan['parts'][number]): boolean {
    const size = reader.decode(dc!);
    if (size < 0 || size > MOST_DC_BITS) return false;
    component.dc += reader.takeSigned(size);
    const { bit } = this.#scan;
    const mean = component.dc * (1 << bit) * meanStep;
    const rounding = (1 << bit) * meanStep + MEAN_ALLOWANCE;
    return mean >= LOWEST_MEAN - rounding && mean <= HIGHEST_MEAN + OVERSHOOT + rounding;
  }

  #decodeBand(reader: BitReader, { component, ac }: Scan['parts'][number], block: number): boolean {
    if (this.#endRun > 0) {
      this.#endRun--;
      return true;
    }
    const { first, last } = this.#scan;
    for (let k = first; k <= last; k++) {
      const symbol = reader.decode(ac!);
      if (symbol < 0) return false;
      const run = symbol >> 4;
      const size = symbol & 15;
      if (size === 0) {
        if (run < 15) {
          this.#endRun = (1 << run) + reader.take(run) - 1;
          return true;
        }
        k += 15;
        if (k > last) return false;
        continue;
      }
      k += run;
      if (k > last || size > MOST_AC_BITS) return false;
      reader.take(size);
      setMask(component, block, k);
    }
    return true;
  }

  #refine(reader: BitReader, { component, ac }: Scan['parts'][number], block: number): boolean {
    const { first, last } = this.#scan;
    let k = first;
    if (this.#endRun === 0) {
      for (; k <= last; k++) {
        const symbol = reader.decode(ac!);
        if (symbol < 0) return false;
        let run = symbol >> 4;
        const size = symbol & 15;
        if (size > 1) return false;
        if (size === 1) reader.take(1);
        else if (run < 15) {
          this.#endRun = (1 << run) + reader.take(run);
          break;
        }
        for (; k <= last; k++) {
          if (hasMask(component, block, k)) reader.take(1);
          else if (run-- === 0) break;
        }
        if (k > last) {
          if (size === 1 || run > 0) return false;
        } else if (size === 1) setMask(component, block, k);
      }
    }
    if (this.#endRun > 0) {
      for (; k <= last; k++) if (hasMask(component, block, k)) reader.take(1);
      this.#endRun--;
    }
    return true;
  }
}

/** The coefficients behind the mean, sequential. */
function decodeRest(reader: BitReader, table: HuffmanTable): boolean {
  for (let k = 1; k < 64; k++) {
    const symbol = reader.decode(table);
    if (symbol === 0) return true;
    if (symbol < 0) return false;
    const size = symbol & 15;
    k += symbol >> 4;
    if (k > 63 || size > MOST_AC_BITS || (size === 0 && symbol !== 0xf0)) return false;
    if (size > 0) reader.take(size);
  }
  return true;
}

function setMask({ low, high }: FrameComponent, block: number, k: number): void {
  if (k < 32) low[block]! |= 1 << k;
  else high[block]! |= 1 << (k - 32);
}

function hasMask({ low, high }: FrameComponent, block: number, k: number): boolean {
  return ((k < 32 ? low[block]! >>> k : high[block]! >>> (k - 32)) & 1) === 1;
}

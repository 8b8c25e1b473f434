/** A photograph that somebody hands in: kept under the hash of its content, or refused in words. */
import { MAX_PHOTOGRAPH_BYTES } from '../contract/addresses.ts';
import type { Outcome } from '../contract/failures.ts';
import type { PhotographPlace } from '../contract/shots.ts';
import type { Workspace } from '../contract/workspace.ts';
import type { ShotSlot } from '../record/roles.ts';
import { type Facts, translateRefusal } from '../wording/refusals.ts';
import { translateNotKept } from './current-state.ts';
import type { LightService } from './light-service.ts';
import type { ImportedPhotograph, PhotographStore } from './photograph-store.ts';
import type { PolarizerService } from './polarizer-service.ts';
import type { ShotService } from './shot-service.ts';

const MIB = 2 ** 20;

interface PhotographSets {
  readonly photographs: PhotographStore;
  readonly shots: ShotService;
  readonly polarizers: PolarizerService;
  readonly light: LightService;
}

/** A file for any set of the work. Answers when it is kept and shown; what it shows follows. */
export async function addPhotograph(
  { photographs, shots, polarizers, light }: PhotographSets,
  place: PhotographPlace,
  name: string,
  bytes: Uint8Array,
): Promise<Outcome<Workspace>> {
  const full = place.set === 'polarizers' ? polarizers.refuseMore(place.role) : undefined;
  if (full) return full;
  const imported = await importPhotograph(photographs, name, bytes, place.set === 'shots' ? place.role : null);
  if (!imported.ok) return imported;
  switch (place.set) {
    case 'shots':
      return shots.add(place.role, imported.value, { isRepeat: place.is_repeat ?? false });
    case 'polarizers':
      return polarizers.add(place.role, imported.value);
    case 'light':
      return light.add(place.role, imported.value);
  }
}

/** Answers when it is on disk. `slot`: of a shot, whose refusal names the lens. */
export async function importPhotograph(
  photographs: PhotographStore,
  given: string,
  bytes: Uint8Array,
  slot: ShotSlot | null = null,
): Promise<Outcome<ImportedPhotograph>> {
  const name = cleanName(given);
  const refuse = (code: string, facts: Facts): Outcome<never> => ({
    ok: false,
    failure: { code, ...translateRefusal(code, { ...facts, file: name }, slot) },
  });
  if (bytes.length === 0) return refuse('unreadable-photo', { reason: 'empty' });
  if (bytes.length > MAX_PHOTOGRAPH_BYTES) {
    const facts = { file_mib: Math.ceil(bytes.length / MIB), limit_mib: MAX_PHOTOGRAPH_BYTES / MIB };
    return refuse('photo-too-large', facts);
  }
  const addition = await photographs.add(bytes).catch((error: unknown) => translateNotKept(error));
  if (!('outcome' in addition)) return { ok: false, failure: addition };
  if (addition.outcome === 'unsupported') return refuse('unsupported-format', { reason: 'format', ...addition });
  return { ok: true, value: { name, sha256: addition.sha256, bytes: bytes.length } };
}

/** The name of a file as somebody else's system gave it, as it may be shown: one line, no folders, no tricks. */

const MAX_CHARACTERS = 200;
const NAMELESS = 'photograph';

/** Control characters, halves of characters, and what turns the direction of writing (Bidi_Control): it hides endings. */
const UNSHOWN = /[\p{Cc}\p{Cs}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu;

/** Ordinary names stay as they are: a reading names its photographs. */
export function cleanName(given: string): string {
  const name = given.split(/[/\\]/).at(-1)!.replace(UNSHOWN, '').trim();
  return name === '' ? NAMELESS : [...name].slice(0, MAX_CHARACTERS).join('');
}

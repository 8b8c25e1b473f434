/** Which keys lead back from the booth view: any that somebody presses to say something. */

/** Keys that only hold other keys. */
const KEYS_THAT_STAY = new Set([
  'Shift',
  'Control',
  'Alt',
  'AltGraph',
  'Meta',
  'CapsLock',
  'Fn',
  'Dead',
  'Unidentified',
]);
/** Keys that belong to the machine: nobody means to leave by making the screen darker. */
const KEYS_OF_THE_MACHINE = /^(?:Audio|Brightness|Media|Launch)/;

/** A key that is held down, as the one with which the view was opened, is no new answer. */
export function isLeavingKey({ key, repeat }: Pick<KeyboardEvent, 'key' | 'repeat'>): boolean {
  return !repeat && !KEYS_THAT_STAY.has(key) && !KEYS_OF_THE_MACHINE.test(key);
}

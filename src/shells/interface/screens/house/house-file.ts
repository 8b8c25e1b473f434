/** House files, in and out: the same JSON that the command line reads. */
import { MOST_CALL_BYTES } from '../../../../contract/addresses.ts';
import type { Failure } from '../../../../contract/failures.ts';
import type { House } from '../../../../record/house.ts';
import { translate } from '../../../../wording/translate.ts';

export function writeHouseFile(house: House): { readonly name: string; readonly text: string } {
  const name = house.name
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^(the-)?-*|-+$/g, '');
  return { name: `${name === '' ? 'my' : name}.house.json`, text: `${JSON.stringify(house, null, 2)}\n` };
}

/** The parts of a File that are looked at. */
export interface GivenText {
  readonly name: string;
  readonly size: number;
  text(): Promise<string>;
}

/** The JSON in a file; whether it is a House is for the shell to say. */
export async function readHouseFile(
  file: GivenText,
): Promise<{ readonly json: unknown } | { readonly failure: Failure }> {
  const refuse = (code: 'too-large' | 'unreadable' | 'no-json') => ({
    failure: {
      code: `house-file-${code}`,
      message: translate(`house.file-${code}`, { name: file.name }),
      remedy: translate(`house.file-${code}-remedy`),
    },
  });
  if (file.size > MOST_CALL_BYTES / 2) return refuse('too-large');
  let text: string;
  try {
    text = await file.text();
  } catch {
    return refuse('unreadable');
  }
  try {
    // Editors of some systems begin the file with a byte order mark.
    return { json: JSON.parse(text.replace(/^\uFEFF/, '')) as unknown };
  } catch {
    return refuse('no-json');
  }
}

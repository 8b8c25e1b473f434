/** What the logbook and its bundles have to say: one sentence, and one remedy, for each code. */
import { type Facts, withNumber, withText } from './facts.ts';

export interface LogbookWords {
  readonly message: string;
  readonly remedy: string;
}

type Wording = (facts: Facts) => readonly [message: string, remedy: string];

const UNTOUCHED = 'Nothing was changed.';
const SOURCE = 'Ask whoever made the bundle to export it again; nothing of it was kept.';
const COPY = 'Take the file from a copy of the logbook, or from a bundle that was exported earlier.';

const LOGBOOK_WORDS = {
  // What cannot be done.
  'logbook-missing': (facts) => [
    `There is no logbook in${withText(facts, 'folder', ' ')}.`,
    'Name another folder (`--folder`), or keep a first entry there (`twinplumb logbook add`, or Logbook on the desktop).',
  ],
  'not-a-logbook': (facts) => [
    `The folder${withText(facts, 'folder', ' ')} holds something else than a logbook.`,
    'Name an empty folder, or one that does not exist yet.',
  ],
  'logbook-newer': (facts) => [
    `The logbook was made by a newer Twinplumb${withText(facts, 'schema', ' (', ')')}.`,
    `Open it with that version. ${UNTOUCHED}`,
  ],
  'logbook-unusable': (facts) => [
    `The logbook${withText(facts, 'folder', ' in ')} cannot be used${withText(facts, 'system_code', ' (', ')')}.`,
    'See to it that the disk is there and that this user may read and write in the folder.',
  ],
  'logbook-busy': (facts) => [
    `Another program is writing in the logbook${withNumber(facts, 'pid', ' (process ', ')', 9)}.`,
    `Wait until it has ended${withText(facts, 'file', '; if there is none, remove ')}.`,
  ],
  'entry-not-kept': (facts) => [
    `The entry could not be kept${withText(facts, 'system_code', ' (', ')')}.`,
    'Make room on the disk or give this user the right to write, then do it again; what was there before is whole.',
  ],
  'no-such-entry': (facts) => [
    `There is no entry${withText(facts, 'id', ' ')} in the logbook.`,
    'Take its name from the list (`twinplumb logbook list`), at least the first eight letters.',
  ],
  'entry-ambiguous': (facts) => [
    `${withNumber(facts, 'count', '', ' entries', 9)} begin with${withText(facts, 'id', ' ')}.`,
    'Give more letters of the name.',
  ],
  'entry-altered': (facts) => [`The entry${withText(facts, 'id', ' ')} is not what was kept: its hash differs.`, COPY],
  'entry-newer': (facts) => [
    `The entry${withText(facts, 'id', ' ')} was written by a newer Twinplumb${withText(facts, 'schema', ' (', ')')}.`,
    `Open it with that version. ${UNTOUCHED}`,
  ],
  'entry-unreadable': (facts) => [
    `The entry${withText(facts, 'id', ' ')} cannot be read${withText(facts, 'system_code', ' (', ')')}.`,
    COPY,
  ],
  'photograph-unreadable': (facts) => [
    `The photograph${withText(facts, 'file', ' ')} cannot be read${withText(facts, 'system_code', ' (', ')')}.`,
    'Check the path and copy the photograph again.',
  ],
  'photograph-changed': (facts) => [
    `The photograph${withText(facts, 'file', ' ')} is no longer the one that was measured.`,
    'Measure it again, and leave the files alone meanwhile.',
  ],
  'photograph-unsupported': (facts) => [
    `The file${withText(facts, 'file', ' ')} is no photograph that can be kept${withText(facts, 'format', ' (', ')')}.`,
    'Give a JPEG, PNG or TIFF file.',
  ],
  'photograph-gone': (facts) => [
    `The photograph${withText(facts, 'file', ' ')} is missing from the logbook or altered.`,
    COPY,
  ],
  'nothing-to-add': () => ['There is neither a note nor a photograph to add.', 'Write a note, or name a photograph.'],

  // What is noticed.
  'clock-back': (facts) => [
    `The clock of this machine${withText(facts, 'now', ' (', ')')} stands before the newest entry${withText(facts, 'newest', ' (', ')')}.`,
    'Set the clock right; the entry was kept with the time that the clock shows.',
  ],
  'sync-refused': (facts) => [
    `The disk of the logbook${withText(facts, 'folder', ', ', ',')} does not confirm what it has written.`,
    'Everything works; do not unplug it in the first seconds after an entry was kept.',
  ],
  'set-aside': (facts) => [
    `The file${withText(facts, 'file', ' ')} was not what its name says (${facts.reason ?? 'altered'}) and was set aside.`,
    `It lies in${withText(facts, 'place', ' ')}; take the right one from a copy or a bundle.`,
  ],
  'record-odd': (facts) => [
    `The file${withText(facts, 'file', ' ')} is not what its name says (${facts.reason ?? 'altered'}).`,
    'It was left where it is; nothing can be written now.',
  ],
  'record-missing': (facts) => [
    `The record${withText(facts, 'id', ' ')} is no longer there${withText(facts, 'named_by', ', though ', ' points at it')}.`,
    COPY,
  ],
  'photographs-known': (facts) => [
    `The same photographs are in the logbook already${withText(facts, 'id', ', in the entry ')}.`,
    'If this entry corrects the other one, keep it as its correction (`--replaces`).',
  ],

  // What is found wrong in a logbook.
  'record-altered': () => ['A record was altered after it was kept.', COPY],
  'record-broken': () => ['A record is cut short or cannot be read.', COPY],
  'record-invalid': (facts) => [`A record lacks what it must have${withText(facts, 'where', ' (', ')')}.`, COPY],
  'record-newer': (facts) => [
    `A record was written by a newer Twinplumb${withText(facts, 'schema', ' (', ')')} and was left untouched.`,
    'Use that version to read it.',
  ],
  'photograph-altered': () => ['A photograph was altered after it was kept.', COPY],
  'photograph-missing': (facts) => [`A photograph is missing${withText(facts, 'name', ' (', ')')}.`, COPY],
  'symbolic-link': () => [
    'There is a link to somewhere else in the place of a file.',
    'Put the file itself in its place.',
  ],
  stranger: () => ['There is a file that is none of the logbook’s.', 'Move it to another place.'],
  'reading-differs': (facts) => [
    `Measured again by the same version, the reading is another one${withText(facts, 'field', ' (', ')')}.`,
    'Report it with the two photographs: the same photographs must give the same reading.',
  ],
  'reading-apart': (facts) => [
    `Measured again by another version, ${facts.field ?? 'a term'} is off by more than its uncertainty.`,
    'Compare the two versions’ readings; the photographs are sound.',
  ],
  'reading-failed': (facts) => [
    `The photographs cannot be measured again${withText(facts, 'reason', ' (', ')')}.`,
    'Try it once more with more memory free.',
  ],

  // What is wrong with a bundle.
  'not-a-zip': () => ['The file is no ZIP, or is cut short.', 'Copy it again from where it came.'],
  'path-outside': () => ['The bundle holds a file that would be written elsewhere.', SOURCE],
  'path-absolute': () => ['The bundle holds a file with a place of its own on the disk.', SOURCE],
  'surplus-file': () => ['The bundle holds a file that does not belong in it.', SOURCE],
  'duplicate-name': () => ['The bundle holds a file twice.', SOURCE],
  encrypted: () => ['The bundle is encrypted.', 'Ask for it without a password.'],
  'zip-bomb': () => ['The bundle holds more than it can, packed to look small.', SOURCE],
  'member-damaged': () => ['A file in the bundle is damaged.', 'Copy the bundle again from where it came.'],
  'manifest-missing': () => ['The bundle has no list of its files.', SOURCE],
  'manifest-invalid': () => ['The bundle’s list of files cannot be read.', SOURCE],
  'manifest-newer': () => ['The bundle was made by a newer Twinplumb.', 'Import it with that version.'],
  'file-missing': () => ['A file of the bundle is missing.', SOURCE],
  'file-altered': () => ['A file of the bundle was altered.', SOURCE],
  'link-missing': () => ['An entry that another one points at is missing from the bundle.', SOURCE],
} satisfies Readonly<Record<string, Wording>>;

export type LogbookWordCode = keyof typeof LOGBOOK_WORDS;

export function translateLogbook(code: LogbookWordCode, facts: Facts = {}): LogbookWords {
  const [message, remedy] = (LOGBOOK_WORDS[code] as Wording)(facts);
  return { message, remedy };
}

/**
 * What went wrong with the program's own work, beside the photographs: one sentence, and one remedy. The codes are
 * raised by the workspace, the engine behind it and the shells.
 */
import type { Facts } from './facts.ts';
import { withNumber, withText } from './facts.ts';

export interface WordedFailure {
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
}

type Wording = (facts: Facts) => readonly [message: string, remedy: string];

const KEPT = 'Everything measured so far is kept.';
const AGAIN = 'Do it again; if it fails again, start Twinplumb anew.';

const FAILURES = {
  // Opening the folder of the work.
  'in-use': (facts) => [
    `Another Twinplumb is at work in this folder${withNumber(facts, 'pid', ' (process ', ')', 9)}.`,
    `Use the window that is open already, or close it first${withText(facts, 'file', '; if there is none, remove ')}.`,
  ],
  'folder-unusable': (facts) => [
    `The folder of the work${withText(facts, 'file', ', ', ',')} cannot be used${withText(facts, 'system_code', ' (', ')')}.`,
    'Give this user the right to write there, or start Twinplumb with another folder (`--folder`).',
  ],
  'workspace-broken': (facts) => [
    `The file of the earlier work cannot be read and was set aside${withText(facts, 'file', ' as ')}.`,
    'Go on with new work; the photographs and readings of the earlier work still lie in the same folder.',
  ],
  'workspace-newer': (facts) => [
    `The earlier work was written by a newer Twinplumb and was set aside${withText(facts, 'file', ' as ')}.`,
    'Go on with new work, or close Twinplumb, give the file its old name back and open it with the newer version.',
  ],
  'photograph-missing': (facts) => [
    `The photograph${withText(facts, 'name', ' ')} is no longer in the folder of the work.`,
    'Add the photograph again.',
  ],
  'photographs-missing': (facts) => [
    `${facts.count === 1 ? 'One photograph of an earlier round is' : `${facts.count} photographs of earlier rounds are`} no longer in the folder of the work.`,
    'The readings are whole; to see these pictures again, copy the files back from where they were moved to.',
  ],
  'photographs-put-away': (facts) => [
    `${facts.count === 1 ? 'One photograph' : `${facts.count} photographs`}${withNumber(facts, 'megabytes', ' (', ' MB)')} that no shot, round or earlier work names any more ${facts.count === 1 ? 'was' : 'were'} put away.`,
    `Nothing is deleted: look into the folder${withText(facts, 'folder', ' ')} beside the work, and empty it when nothing in it is wanted.`,
  ],
  'reading-missing': (facts) => [
    `The reading of round${withNumber(facts, 'round', ' ', '', 9)} cannot be read from the folder of the work.`,
    'Copy the file back from where it was moved to; the list of rounds keeps the main figures.',
  ],
  'not-kept': (facts) => [
    `The work cannot be written to the disk${withText(facts, 'system_code', ' (', ')')}.`,
    'Make room on the disk or give this user the right to write, then do the last step again.',
  ],

  // What is asked for cannot be done as things stand.
  'light-missing': () => [
    'There is no photograph of the picture yet.',
    'Add one through a lens of the glasses, or one of the open gate.',
  ],
  'series-missing': () => [
    'The reference or the series is not there yet.',
    'Add the reference, taken through the other lens, and the photographs of the series.',
  ],
  'turns-missing': () => [
    'No photograph of the series has a turn.',
    'Enter the turn of each photograph, or choose equal steps.',
  ],
  'series-full': (facts) => [
    `A series holds no more photographs${withNumber(facts, 'limit', ' than ', '', 9)}.`,
    'Begin a new series, or take some of these away.',
  ],
  'ports-missing': () => [
    'One of the two photographs of the ports is not there yet.',
    'Add one through each lens of the glasses.',
  ],
  'unknown-procedure': () => [
    'The page asks for something that this program does not know.',
    'Reload the page, so that page and program are of the same version.',
  ],
  'invalid-input': (facts) => [
    `What was given cannot be used${withText(facts, 'detail', ': ')}.`,
    'Correct the value; if it was not typed by hand, reload the page.',
  ],
  'shots-missing': () => [
    'Two photographs are needed, one through each lens of the glasses.',
    'Add the missing photograph, then measure.',
  ],
  'already-measuring': () => ['A measurement is under way.', 'Wait until it has ended, or cancel it first.'],
  'no-such-job': () => ['This work has ended already.', 'Nothing has to be cancelled.'],
  'no-such-round': () => [
    'There is no such round in the current work.',
    'Choose one from the list of rounds; earlier work lies in the folder “earlier”.',
  ],
  'no-such-photograph': () => [
    'There is no such photograph in the current work.',
    'Choose one of the photographs that are shown; earlier work lies in the folder “earlier”.',
  ],

  // The logbook, and paper.
  'logbook-not-chosen': () => [
    'No logbook has been chosen yet.',
    'Open Logbook and choose the folder in which it lies, or begin one there.',
  ],
  'folder-not-absolute': (facts) => [
    `The folder${withText(facts, 'file', ' ')} is not named from its beginning.`,
    'Write the whole path, from the root of the disk or of the share.',
  ],
  'round-without-facts': (facts) => [
    `Round${withNumber(facts, 'round', ' ', '', 9)} was measured by an earlier Twinplumb, which did not note the house as it was.`,
    'Measure the two photographs again, then keep the new round.',
  ],
  'nothing-to-compare': () => [
    'One of the two entries holds a refusal; it has no figures.',
    'Choose two entries that were measured.',
  ],
  'already-at-it': () => ['This is under way already.', 'Wait until it has ended, or cancel it first.'],
  'no-printer': () => [
    'No Chromium was found on this machine, and reports are put onto pages by one.',
    'Install Chromium or Chrome, or name it in TWINPLUMB_BROWSER; the HTML report can be printed from any browser.',
  ],
  'print-failed': (facts) => [
    `The browser that puts reports onto pages failed${withText(facts, 'reason', ' (', ')')}.`,
    'Do it again; otherwise open the HTML report and print it from any browser.',
  ],

  // The engine.
  cancelled: () => ['The work was cancelled.', 'Start it again when you wish.'],
  'not-examined': () => ['This photograph was not looked at, because that was cancelled.', 'Add it again.'],
  'engine-stopped': () => [
    'The part of the program that measures stopped in the middle and was started again.',
    `${KEPT} Start the measurement again.`,
  ],
  'engine-fault': () => [
    'A fault of Twinplumb, not of your photographs, ended this work.',
    `${KEPT} Try once more; if it fails again, report it with the two photographs.`,
  ],
  'out-of-memory': () => [
    'The photograph needs more memory than there is.',
    'Close other programs, or set the camera to fewer megapixels.',
  ],
  'frame-dropped': () => [
    'A newer picture of the camera came before this one was looked at.',
    'Nothing is to be done.',
  ],
  fault: () => ['A fault of Twinplumb stopped this step.', `${KEPT} ${AGAIN}`],

  // The way from the page to the program.
  'not-found': () => ['There is nothing at this address.', 'Open the page from its beginning.'],
  'wrong-method': () => ['This address cannot be used in this way.', 'Open the page from its beginning.'],
  'foreign-page': () => [
    'Another page tried to use Twinplumb and was turned away.',
    'Use the page that Twinplumb itself opened.',
  ],
  'not-entered': () => [
    'This browser has not been let in.',
    'Start Twinplumb again and open the address that it prints.',
  ],
  'body-too-large': (facts) => [
    `More was sent than is taken${withNumber(facts, 'limit_mib', ', at most ', ' MiB', 6)}.`,
    'Send a smaller file.',
  ],
  'not-json': () => ['What was sent cannot be read.', 'Reload the page.'],
} satisfies Readonly<Record<string, Wording>>;

export type FailureCode = keyof typeof FAILURES;

export const FAILURE_CODES = Object.keys(FAILURES) as readonly FailureCode[];

export function translateFailure(code: FailureCode, facts: Facts = {}): WordedFailure {
  const [message, remedy] = (FAILURES[code] as Wording)(facts);
  return { code, message, remedy };
}

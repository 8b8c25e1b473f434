/** What the program says in dialogs of the system, in one place for translators. */
import type { Failure } from '../../contract/failures.ts';

export const DIALOG_WORDS = {
  choosePhotographs: 'Photographs of the target',
  photographs: 'Photographs',
  allFiles: 'All files',

  pageFails: {
    message: 'The page stopped several times in a row.',
    detail: 'Everything measured is kept. Try again, or close Twinplumb and start it anew.',
    tryAgain: 'Try again',
    close: 'Close',
  },
  pageHangs: {
    message: 'The page does not answer.',
    detail: 'Wait a little, or load it anew; everything measured is kept.',
    wait: 'Wait',
    loadAnew: 'Load anew',
  },
  cannotStart: 'Twinplumb cannot start',
} as const;

export const FAILURES = {
  notOurPage: {
    code: 'not-our-page',
    message: 'Only the page of Twinplumb itself may ask for photographs.',
    remedy: 'Close Twinplumb and start it anew.',
  },
  wrongPayload: {
    code: 'invalid-input',
    message: 'The page asked in a form that the program does not know.',
    remedy: 'Close Twinplumb and start it anew.',
  },
  tooManyPhotographs: (count: number, most: number): Failure => ({
    code: 'too-many-photographs',
    message: `${count} files were chosen; at most ${most} are taken at once.`,
    remedy: 'Choose the photographs of this measurement only: one through each lens.',
  }),
  photographTooLarge: (name: string, mostMB: number): Failure => ({
    code: 'photograph-too-large',
    message: `${name} has more than ${mostMB} MB.`,
    remedy: 'Save the photograph as JPEG and choose that file.',
  }),
  photographsTooLarge: (mostMB: number): Failure => ({
    code: 'photographs-too-large',
    message: `The chosen files together have more than ${mostMB} MB.`,
    remedy: 'Choose fewer files at once.',
  }),
  unreadablePhotograph: (name: string): Failure => ({
    code: 'unreadable-file',
    message: `${name} cannot be read.`,
    remedy: 'Check that the file is still there and that you may read it, or copy it to this machine first.',
  }),
} as const;

/** The system's dialog for choosing files, opened by a button of the page: unseen itself, and no stop of the keyboard. */
import type { RefObject } from 'react';

/** Photographs that can be measured, by type and, for systems that know no types, by ending. */
export const ACCEPTED_TYPES = 'image/jpeg,image/png,image/tiff,.jpg,.jpeg,.png,.tif,.tiff';

export interface FileInputProps {
  readonly input: RefObject<HTMLInputElement | null>;
  readonly accept: string;
  readonly areSeveral?: boolean;
  /** What is chosen, where a page has more than one of these. */
  readonly label?: string;
  readonly onFiles: (files: readonly File[]) => void;
}

export function FileInput({ input, accept, areSeveral = false, label, onFiles }: FileInputProps) {
  return (
    <input
      ref={input}
      className="unseen"
      type="file"
      tabIndex={-1}
      aria-label={label}
      aria-hidden={label === undefined}
      accept={accept}
      multiple={areSeveral}
      onChange={({ currentTarget }) => {
        onFiles([...(currentTarget.files ?? [])]);
        // The same file may be chosen again.
        currentTarget.value = '';
      }}
    />
  );
}

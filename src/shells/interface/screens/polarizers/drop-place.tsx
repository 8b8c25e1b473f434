/** A place for photographs: dropped upon, or chosen in a dialog. What stands in it is its own. */
import { type DragEvent, type ReactNode, useRef, useState } from 'react';
import { ACCEPTED_TYPES, FileInput } from '../../parts/file-input.tsx';
import { type Dropped, readDrop } from '../shots/read-drop.ts';

export interface DropPlaceProps {
  readonly label: string;
  readonly areSeveral?: boolean;
  readonly onFiles: (dropped: Dropped) => void;
  /** `choose` opens the dialog. */
  readonly children: (choose: () => void) => ReactNode;
}

export function DropPlace({ label, areSeveral = false, onFiles, children }: DropPlaceProps) {
  const input = useRef<HTMLInputElement>(null);
  const [isOver, setOver] = useState(false);
  const leave = (event: DragEvent) => {
    if (!event.currentTarget.contains(event.relatedTarget as Node | null)) setOver(false);
  };
  return (
    <section
      className={`polarizers-place${isOver ? ' polarizers-place-over' : ''}`}
      aria-label={label}
      onDragEnter={(event) => {
        event.preventDefault();
        setOver(true);
      }}
      onDragLeave={leave}
      onDragOver={(event) => event.preventDefault()}
      onDrop={(event) => {
        event.preventDefault();
        event.stopPropagation();
        setOver(false);
        onFiles(readDrop(event.dataTransfer));
      }}
    >
      {children(() => input.current?.click())}
      <FileInput
        input={input}
        accept={ACCEPTED_TYPES}
        areSeveral={areSeveral}
        label={label}
        onFiles={(files) => onFiles({ files, folders: [] })}
      />
    </section>
  );
}

/** What is kept in a logbook: a reading with everything that went into it, and notes that are added to it later. */
import type { Kept, Logbook, LogbookRefusal, NewAddition, NewEntry } from '../logbook/logbook.ts';

/** What was written by hand is kept without the blanks around it; nothing but blanks is nothing. */
export function keepEntry(logbook: Logbook, entry: NewEntry): Promise<Kept | LogbookRefusal> {
  const { operator, print, reel, note } = entry;
  return logbook.add({
    ...entry,
    operator: trimmed(operator),
    print: trimmed(print),
    reel: trimmed(reel),
    note: trimmed(note),
  });
}

export function addNote(logbook: Logbook, addition: NewAddition): Promise<Kept | LogbookRefusal> {
  return logbook.append({ ...addition, by: trimmed(addition.by), note: trimmed(addition.note) });
}

function trimmed(text: string | null | undefined): string | null {
  return text?.trim() || null;
}

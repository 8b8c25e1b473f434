/** The files of a drop or a paste, and the names of folders among them, which cannot be taken. */
export interface Dropped {
  readonly files: readonly File[];
  readonly folders: readonly string[];
}

export function readDrop(data: DataTransfer): Dropped {
  const files: File[] = [];
  const folders: string[] = [];
  for (const item of data.items) {
    if (item.kind !== 'file') continue;
    const entry = item.webkitGetAsEntry?.();
    if (entry?.isDirectory) {
      folders.push(entry.name);
      continue;
    }
    const file = item.getAsFile();
    if (file) files.push(file);
  }
  return { files, folders };
}

/** The pictures of a report as they stand in its one file: inline, as data URIs. */
import type { Crop, Pictures, Region } from './make-pictures.ts';
import type { LensRole } from '../../record/roles.ts';

export interface EmbeddedPictures {
  readonly overlay: { readonly dataUri: string; readonly region: Region };
  readonly crops: readonly (Omit<Crop, 'jpeg'> & { readonly dataUri: Readonly<Record<LensRole, string>> })[];
}

export function embedPictures({ overlay, crops }: Pictures): EmbeddedPictures {
  return {
    overlay: { dataUri: dataUri(overlay.jpeg), region: overlay.region },
    crops: crops.map(({ jpeg, ...crop }) => ({
      ...crop,
      dataUri: { 'left-lens': dataUri(jpeg['left-lens']), 'right-lens': dataUri(jpeg['right-lens']) },
    })),
  };
}

function dataUri(jpeg: Uint8Array): string {
  return `data:image/jpeg;base64,${Buffer.from(jpeg.buffer, jpeg.byteOffset, jpeg.byteLength).toString('base64')}`;
}

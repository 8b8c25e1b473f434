/** The photographs as the report shows them: inline (data URI), each with the region of the photograph that it covers. */
import type { ShotRole } from '../../record/roles.ts';

/** Photo px; the picture's edges, so a whole photograph is x = y = -0.5. */
export interface PhotoRegion {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface EvidenceCrop {
  /** Why this place is shown. */
  readonly place: CropPlace;
  readonly markId: string;
  /** The same region of both photographs, at full resolution. */
  readonly region: PhotoRegion;
  readonly dataUri: Readonly<Partial<Record<ShotRole, string>>>;
}

export type CropPlace = 'worst-residual' | 'centre' | 'upper-left' | 'upper-right' | 'lower-left' | 'lower-right';

export interface ReportPictures {
  /** Both photographs laid over each other: left lens in orange, right lens in blue, added. */
  readonly overlay: { readonly dataUri: string; readonly region: PhotoRegion } | null;
  readonly crops: readonly EvidenceCrop[];
}

/** A photograph of the ports, with rings where they were found; a port that is dark through its lens has a broken ring. */
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { LaidOutPhotograph } from '../../../../contract/polarizers.ts';
import type { Eye } from '../../../../kernel/eye.ts';
import type { ComparedPortShots } from '../../../../record/port-shots.ts';
import { translate } from '../../../../wording/translate.ts';

const VIEW_WIDTH_PX = 900;

export interface PortPictureProps {
  readonly photograph: LaidOutPhotograph;
  readonly lens: Eye;
  readonly shots: ComparedPortShots | null;
}

export function PortPicture({ photograph, lens, shots }: PortPictureProps) {
  const name = translate('polarizers.port-picture', { lens, name: photograph.name });
  const address = ADDRESSES.photograph(photograph.sha256, VIEW_WIDTH_PX);
  if (!shots) return <img className="polarizers-picture" src={address} alt={name} />;
  const { width_px, height_px } = shots.size;
  const thickness = width_px / 250;
  return (
    <svg className="polarizers-picture" viewBox={`0 0 ${width_px} ${height_px}`} role="img" aria-label={name}>
      <image href={address} x={-0.5} y={-0.5} width={width_px} height={height_px} />
      {shots.ports.map(({ place, x_px, y_px, radius_px, dark_to }) => (
        <circle
          key={place}
          className="polarizers-ring"
          cx={x_px}
          cy={y_px}
          r={1.2 * radius_px}
          strokeWidth={thickness}
          strokeDasharray={dark_to === lens ? `${4 * thickness} ${3 * thickness}` : undefined}
        />
      ))}
    </svg>
  );
}

/**
 * A photograph with the marks that were found in it. Left-eye marks are rings, right-eye marks are diamonds, in the
 * eyes' colours; both stand in photo coordinates, so they lie where they were found at every size.
 */
import { ADDRESSES } from '../../../../contract/addresses.ts';
import type { Shot } from '../../../../contract/shots.ts';
import { translate } from '../../../../wording/translate.ts';
import { frameMarks } from './frame-marks.ts';

/** Wide enough for the largest place on a screen; the photograph itself may have ten times as many pixels. */
const VIEW_WIDTH_PX = 1280;

export function ShotPicture({ shot }: { readonly shot: Shot }) {
  const { examination, width_px, height_px } = shot;
  const marks = examination?.outcome === 'usable' ? examination.marks : [];
  const name = translate('shots.picture', {
    where: translate(`shots.slot-${shot.slot}`),
    name: shot.name,
    count: marks.length,
  });
  if (width_px === null || height_px === null) {
    return <div className="shots-picture shots-picture-unknown" />;
  }
  const frame = frameMarks(marks, width_px, height_px);
  const size = frame.width / 130;
  return (
    <svg
      className="shots-picture"
      viewBox={`${frame.x} ${frame.y} ${frame.width} ${frame.height}`}
      role="img"
      aria-label={name}
    >
      <image
        href={ADDRESSES.photograph(shot.sha256, VIEW_WIDTH_PX)}
        x={-0.5}
        y={-0.5}
        width={width_px}
        height={height_px}
      />
      <g fill="none" strokeWidth={size / 3}>
        {marks.map(({ id, eye, x, y }) =>
          eye === 'left' ? (
            <circle key={`${eye} ${id}`} className="shots-mark-left" cx={x} cy={y} r={size} />
          ) : (
            <path
              key={`${eye} ${id}`}
              className="shots-mark-right"
              d={`M${x} ${y - 1.3 * size}l${1.3 * size} ${1.3 * size}-${1.3 * size} ${1.3 * size}-${1.3 * size}-${1.3 * size}Z`}
            />
          ),
        )}
      </g>
    </svg>
  );
}

/** What the picture is like, in numbers with their words. */
import type { FrameVerdict } from '../../../contract/live.ts';
import { translate } from '../../../wording/translate.ts';

export function Gauges({ verdict }: { readonly verdict: FrameVerdict | undefined }) {
  return (
    <dl className="camera-gauges">
      {ROWS.map(({ name, word }) => (
        <div key={name}>
          <dt>{translate(`camera.${name}`)}</dt>
          <dd>{(verdict && word(verdict)) ?? translate('camera.not-known')}</dd>
        </div>
      ))}
    </dl>
  );
}

type Row = {
  readonly name: 'sharpness' | 'exposure' | 'leak' | 'marks';
  readonly word: (verdict: FrameVerdict) => string | null;
};

const ROWS: readonly Row[] = [
  {
    name: 'sharpness',
    word: ({ blur_px, hint }) =>
      blur_px === null ? null : translate(hint === 'soft' ? 'camera.soft-by' : 'camera.sharp-by', { px: blur_px }),
  },
  {
    name: 'exposure',
    word: ({ brightest, clipped_pct, hint }) => {
      if (clipped_pct > 0) return translate('camera.clipped', { brightest, clipped: clipped_pct / 100 });
      return translate(hint === 'dark' ? 'camera.exposed-dim' : 'camera.exposed', { brightest });
    },
  },
  {
    name: 'leak',
    word: ({ leak_pct, shows }) => {
      if (leak_pct !== null) return translate('camera.leak-of', { part: leak_pct / 100 });
      return shows && translate('camera.leak-none');
    },
  },
  {
    name: 'marks',
    word: ({ marks, expected, shows }) => {
      if (shows === 'both') return translate('camera.marks-of-both', { seen: marks.length });
      const seen = marks.filter(({ eye }) => eye === shows).length;
      return shows && translate('camera.marks-of', { seen, expected });
    },
  },
];

/** What the picture is like, in numbers with their words. */
import type { FrameVerdict } from '../../../contract/live.ts';
import type { ShownEye } from '../../../contract/shots.ts';
import { translate } from '../../../wording/translate.ts';
import type { ShotSlot } from '../../../record/roles.ts';

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

/** Whether the picture stands still: a word and a shape. */

/** `unknown`: watched for too short a time; `nothing`: there is no target to watch. */
export type Stillness = 'still' | 'moving' | 'unknown' | 'nothing';

const SHAPES = {
  still: <circle cx="20" cy="20" r="13" fill="currentColor" />,
  moving: (
    <g fill="none" stroke="currentColor" strokeWidth="2.5">
      <circle cx="13" cy="20" r="10.5" />
      <circle cx="20" cy="20" r="10.5" />
      <circle cx="27" cy="20" r="10.5" />
    </g>
  ),
  nothing: <path d="M7 20h26" stroke="currentColor" strokeWidth="2.5" />,
  unknown: (
    <circle cx="20" cy="20" r="13" fill="none" stroke="currentColor" strokeWidth="2.5" strokeDasharray="4 4.2" />
  ),
} as const;

export function Steadiness({
  stillness,
  movement_px,
}: {
  readonly stillness: Stillness;
  readonly movement_px: number | null;
}) {
  return (
    <p className={`camera-steadiness camera-steadiness-${stillness}`}>
      <svg viewBox="0 0 40 40" aria-hidden="true">
        {SHAPES[stillness]}
      </svg>
      <span className="camera-steadiness-word">{translate(`camera.${stillness}`)}</span>
      <span className="camera-steadiness-much">
        {movement_px === null
          ? translate(stillness === 'nothing' ? 'camera.movement-nothing' : 'camera.movement-unknown')
          : translate('camera.movement', { px: movement_px })}
      </span>
    </p>
  );
}

/** Which words of the wording a verdict is put into. */

type Hint = FrameVerdict['hint'];
/**
 * `dim`: the target is there and dark; `dark`: nothing is. `watching`: too early to say whether it moves. `wrong-lens`: the
 * other eye's picture than the slot's; `one-eye`: one where both are wanted.
 */
export type FrameSentence = Hint | 'dim' | 'watching' | 'wrong-lens' | 'one-eye';

const EYE_OF_SLOT: Readonly<Record<ShotSlot, ShownEye>> = {
  'left-lens': 'left',
  'right-lens': 'right',
  // A closing shot repeats the first one.
  closing: 'left',
  bare: 'both',
};

/** The one sentence for a frame, for whoever takes the shot of `slot`. */
export function sentenceOf(verdict: FrameVerdict, slot: ShotSlot): FrameSentence {
  const { hint, shows, marks, movement_px, isSteady } = verdict;
  if (hint === 'dark') return marks.length > 0 ? 'dim' : 'dark';
  const wanted = EYE_OF_SLOT[slot];
  const isNothingWrong = hint === 'ready' || hint === 'moving' || (hint === 'both-eyes' && wanted === 'both');
  if (!isNothingWrong) return hint;
  if (!isSteady) return movement_px === null ? 'watching' : 'moving';
  if (shows === null || shows === wanted) return 'ready';
  return wanted === 'both' ? 'one-eye' : 'wrong-lens';
}

/** Nothing stands in the way of a good shot; of the wrong lens nobody but the operator can be sure. */
export function isGood(sentence: FrameSentence): boolean {
  return sentence === 'ready';
}

/** A slot as messages choose by it, which cannot hold a hyphen: `left`, `right`, `closing`, `bare`. */
export function formatSlot(slot: ShotSlot): string {
  return slot.replace('-lens', '');
}

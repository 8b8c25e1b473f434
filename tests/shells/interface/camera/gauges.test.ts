import { describe, expect, it } from 'vitest';
import { FRAME_HINTS, type FrameVerdict } from '../../../../src/contract/live.ts';
import { SHOT_SLOTS } from '../../../../src/record/roles.ts';
import { formatSlot, isGood, sentenceOf } from '../../../../src/shells/interface/camera/gauges.tsx';
import { type MessageKey, translate } from '../../../../src/wording/translate.ts';
import { verdictOf } from './verdicts.ts';

const both: Partial<FrameVerdict> = { hint: 'both-eyes', shows: 'both' };
const moving: Partial<FrameVerdict> = { hint: 'moving', isSteady: false, movement_px: 9 };

describe('the sentence for a frame', () => {
  it.each([
    ['a good frame through the right one of two lenses', {}, 'left-lens', 'ready'],
    ['the other eye’s picture', { shows: 'right' }, 'left-lens', 'wrong-lens'],
    ['a dark frame', { hint: 'dark', shows: null, marks: [] }, 'left-lens', 'dark'],
    ['a dark target', { hint: 'dark' }, 'left-lens', 'dim'],
    ['a moving picture', moving, 'left-lens', 'moving'],
    ['a picture that was not watched for long', { ...moving, movement_px: null }, 'left-lens', 'watching'],
    ['both pictures where one is wanted', both, 'left-lens', 'both-eyes'],
    ['both pictures where both are wanted', both, 'bare', 'ready'],
    ['both pictures that move', { ...both, isSteady: false }, 'bare', 'moving'],
    ['one picture where both are wanted', {}, 'bare', 'one-eye'],
    ['the first lens again', {}, 'closing', 'ready'],
    ['a soft picture through the wrong lens', { hint: 'soft', shows: 'right' }, 'left-lens', 'soft'],
  ] as const)('%s', (_, given, slot, sentence) => {
    expect(sentenceOf(verdictOf(given as Partial<FrameVerdict>), slot)).toBe(sentence);
  });

  it('is good for one of them', () => {
    expect(FRAME_HINTS.filter(isGood)).toEqual(['ready']);
  });
});

describe('words of the camera', () => {
  const sentences = [...FRAME_HINTS, 'dim', 'watching', 'wrong-lens', 'one-eye'] as const;

  it.each(sentences)('%s has a sentence and what to do, for every shot and eye', (sentence) => {
    for (const slot of SHOT_SLOTS) {
      for (const eye of ['left', 'right', 'both']) {
        const values = { slot: formatSlot(slot), eye };
        expect(translate(`camera.say-${sentence}`, values).length).toBeGreaterThan(5);
        const remedy = translate(`camera.say-${sentence}-remedy`, values);
        expect(remedy.length).toBeGreaterThan(10);
        expect(remedy).not.toMatch(/[{}]|undefined/);
      }
    }
  });

  it.each(SHOT_SLOTS)('name the shot %s wherever it is taken', (slot) => {
    for (const key of [`camera.slot-${slot}`, 'camera.take', 'camera.taken'] as MessageKey[]) {
      expect(translate(key, { slot: formatSlot(slot) })).toMatch(
        slot === 'bare' ? /without glasses/i : new RegExp(formatSlot(slot), 'i'),
      );
    }
  });
});

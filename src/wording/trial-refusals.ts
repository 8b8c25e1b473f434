/** Why a trial turn taught nothing, and what to do: one sentence each. */
import { type Facts, type RefusalWording, withNumber, withText } from './facts.ts';
import { formatTurnAmount } from './numbers.ts';
import { shortenLabel } from './turns.ts';

export const TRIAL_REFUSALS: Readonly<Record<string, RefusalWording>> = {
  'round-not-measured': () => ({
    message: 'One of the two rounds was not measured, so that they cannot be compared.',
    remedy: 'Take both photographs again after the trial turn and measure once more.',
  }),

  'same-photographs': () => ({
    message: 'Both rounds were measured from the same photographs.',
    remedy: 'Take both photographs anew after the trial turn, and measure.',
  }),

  'eyes-exchanged': () => ({
    message: 'The eyes are exchanged, so that nobody can say which picture was moved.',
    remedy: 'Check polarizers, glasses and threading first, then make the trial turn.',
  }),

  'nothing-turned': () => ({
    message: 'Nothing is noted as turned between the two rounds.',
    remedy: 'Note the turn that was made, with its direction and amount, and learn from it again.',
  }),

  'several-adjustments-turned': (facts) => ({
    message: `${typeof facts.count === 'number' ? facts.count : 'Several'} adjustments were turned between the two rounds, so that the change cannot be told apart.`,
    remedy: 'Make one trial turn at a time, and take both photographs after each.',
  }),

  'no-such-adjustment': (facts) => ({
    message: `What was turned is not in the house file${withText(facts, 'adjustment', ': “', '”')}.`,
    remedy: 'Add the adjustment to the house, or correct the note of what was turned.',
  }),

  'effect-from-geometry': (facts) => ({
    message: `${nameAdjustment(facts)} acts along a curve, which one figure per turn would not describe.`,
    remedy: 'Correct its dimensions in the house instead.',
  }),

  'no-effect-seen': (facts) => ({
    message: `${nameAdjustment(facts)} changed nothing that the photographs show${typeof facts.turns === 'number' ? ` in ${formatTurnAmount(facts.turns)}` : ''}.`,
    remedy:
      'See whether its lock is loose, the play is taken up and its travel not at an end, then turn twice as far and photograph again.',
  }),

  'effect-not-certain': (facts) => ({
    message: `The change is too small to rely on${withNumber(facts, 'known_to_pct', ': it would be known only to ', ' %')}.`,
    remedy: 'Turn the same adjustment on by as much again, coming up clockwise, and photograph again.',
  }),

  'other-picture-moved': (facts) => ({
    message: `${nameAdjustment(facts)} did not move the ${withText(facts, 'moves', '', '-eye picture') || 'picture that the house names'}; the other one moved.`,
    remedy: 'Look whether another screw was turned; if not, correct in the house which picture this one moves.',
  }),
};

function nameAdjustment({ label }: Facts): string {
  if (typeof label !== 'string') return 'The adjustment';
  const name = shortenLabel(label);
  return `The ${/^[A-Z][a-z]/.test(name) ? name.charAt(0).toLowerCase() + name.slice(1) : name}`;
}

import { describe, expect, it } from 'vitest';
import { evaluateLoss, type RobustLoss } from '../../src/kernel/least-squares.ts';

describe.each(['huber', 'tukey'] as const)('%s loss', (kind) => {
  const loss: RobustLoss = { kind, threshold: 2.5, blockSize: 1 };

  it('is the square of a small residual', () => {
    expect(evaluateLoss(loss, 0)).toEqual({ cost: 0, weight: 1 });
    expect(evaluateLoss(loss, 1e-8).cost / 1e-8).toBeCloseTo(1, 7);
  });

  it('has its weight as the derivative by the square', () => {
    for (const squared of [0.3, 2, 5, 6.2, 6.3, 9, 40]) {
      const slope = (evaluateLoss(loss, squared + 1e-5).cost - evaluateLoss(loss, squared - 1e-5).cost) / 2e-5;
      expect(evaluateLoss(loss, squared).weight).toBeCloseTo(slope, 8);
    }
  });

  it('does not jump at its threshold', () => {
    const inside = evaluateLoss(loss, 6.25 - 1e-12);
    const outside = evaluateLoss(loss, 6.25 + 1e-12);
    expect(outside.cost).toBeCloseTo(inside.cost, 10);
    expect(outside.weight).toBeCloseTo(inside.weight, 10);
  });
});

it('far away, Huber grows with the residual and Tukey stays', () => {
  expect(evaluateLoss({ kind: 'huber', threshold: 1, blockSize: 1 }, 1e4)).toEqual({ cost: 199, weight: 0.01 });
  expect(evaluateLoss({ kind: 'tukey', threshold: 3, blockSize: 1 }, 1e4)).toEqual({ cost: 3, weight: 0 });
});

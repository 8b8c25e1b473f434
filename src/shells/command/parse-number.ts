/** Numbers on the command line: plain decimals only, so that a typing error is not measured with. */
import { InvalidArgumentError } from 'commander';

export function parseDecimal(text: string): number {
  if (!/^[+-]?(\d+\.?\d*|\.\d+)$/.test(text)) throw new InvalidArgumentError('A number is needed, such as 2.35.');
  return Number(text);
}

export function parseWhole(text: string): number {
  const value = /^\d+$/.test(text) ? Number(text) : Number.NaN;
  if (!Number.isSafeInteger(value)) throw new InvalidArgumentError('A whole number is needed, such as 1744.');
  return value;
}

/** A field of the House: its words, its unit, what is wrong with it, and what is allowed. */
import type { ReactNode } from 'react';
import { Field } from '../../parts/field.tsx';
import { isMessageKey, translate, type MessageKey } from '../../../../wording/translate.ts';
import { type Path, textAt, typeText } from './draft.ts';
import type { HouseEditing } from './use-house-draft.ts';
import type { Quantity, Units } from './units.ts';
import { formatProblem, formatUnit } from './word-problem.ts';

export interface HouseFieldProps {
  readonly editing: HouseEditing;
  readonly units: Units;
  readonly path: Path;
  readonly quantity: Quantity | 'text' | 'long-text';
  /** The end of its keys in the wording; the last part of the path where left out. */
  readonly word?: string;
  readonly isNeeded?: boolean;
  /** What holds while the field is empty. */
  readonly usual?: string;
  readonly hint?: ReactNode;
}

export function HouseField({ editing, units, path, quantity, word, isNeeded, usual, hint }: HouseFieldProps) {
  const draft = editing.draft!;
  const problem = editing.checked?.problems.get(path);
  const ending = word ?? path.split('.').at(-1)!;
  const plain = quantity === 'long-text' ? 'text' : quantity;
  const hintKey = `house.hint-${ending}`;
  const isMissing = problem?.code === 'missing';
  return (
    <Field
      label={translate(`house.field-${ending}` as MessageKey)}
      value={textAt(draft, path, plain, units)}
      onChange={(text) => editing.edit((before) => typeText(before, path, text, plain, units))}
      kind={quantity === 'text' || quantity === 'long-text' ? quantity : 'number'}
      unit={plain === 'text' ? undefined : formatUnit(plain, units)}
      placeholder={usual}
      isOptional={isMissing ? translate('house.needed') : isNeeded ? undefined : translate('house.optional')}
      problem={problem === undefined || isMissing ? undefined : formatProblem(problem, plain, units)}
      hint={hint ?? (isMessageKey(hintKey) ? translate(hintKey) : undefined)}
    />
  );
}

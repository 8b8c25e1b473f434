/** A small field in a row whose words stand beside it: named for screen readers, what is wrong under it. */
import { useId } from 'react';

export interface NumberCellProps {
  readonly name: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly problem: string | undefined;
  /** The half width of an interval: a plus-minus sign stands before it. */
  readonly isRange?: boolean;
  readonly isText?: boolean;
}

export function NumberCell({ name, value, onChange, problem, isRange, isText }: NumberCellProps) {
  const id = useId();
  return (
    <span className={`light-cell${isText ? ' light-cell-text' : ''}`}>
      <span className="light-cell-line">
        {isRange && <span aria-hidden="true">±</span>}
        <input
          type="text"
          inputMode={isText ? undefined : 'decimal'}
          autoComplete="off"
          spellCheck={false}
          maxLength={isText ? 80 : 12}
          aria-label={name}
          aria-invalid={problem === undefined ? undefined : true}
          aria-describedby={problem === undefined ? undefined : id}
          value={value}
          onChange={(event) => onChange(event.target.value)}
        />
      </span>
      {problem !== undefined && (
        <span className="part-field-problem" id={id}>
          {problem}
        </span>
      )}
    </span>
  );
}

/** A line of text or a number with its unit; what is wrong with it stands beside it. */
import { type ReactNode, useId } from 'react';
import './parts.css';

export interface FieldProps {
  readonly label: string;
  readonly value: string;
  readonly onChange: (value: string) => void;
  readonly unit?: string | undefined;
  /** How to find the value; a part of the field's description. */
  readonly hint?: ReactNode;
  /** What is wrong and what is allowed; absent while all is well. */
  readonly problem?: string | undefined;
  /** `number` asks for a keypad with a decimal point where there is one. */
  readonly kind?: 'text' | 'number' | 'long-text' | undefined;
  readonly placeholder?: string | undefined;
  readonly isOptional?: string | undefined;
}

export function Field(props: FieldProps) {
  const { label, value, onChange, unit, hint, problem, kind = 'text', placeholder, isOptional } = props;
  const id = useId();
  const described = [unit && `${id}-unit`, hint && `${id}-hint`, problem && `${id}-problem`].filter(Boolean).join(' ');
  const shared = {
    id,
    value,
    placeholder,
    'aria-invalid': problem === undefined ? undefined : true,
    'aria-describedby': described === '' ? undefined : described,
  } as const;
  return (
    <div className={`part-field part-field-${kind}`}>
      <label htmlFor={id} className="part-field-label">
        {label}
        {isOptional !== undefined && <span className="part-field-optional"> {isOptional}</span>}
      </label>
      <span className="part-field-line">
        {kind === 'long-text' ? (
          <textarea {...shared} rows={3} onChange={(event) => onChange(event.target.value)} />
        ) : (
          <input
            {...shared}
            type="text"
            inputMode={kind === 'number' ? 'decimal' : undefined}
            autoComplete="off"
            spellCheck={false}
            onChange={(event) => onChange(event.target.value)}
          />
        )}
        {unit !== undefined && (
          <span className="part-field-unit" id={`${id}-unit`}>
            {unit}
          </span>
        )}
      </span>
      {problem !== undefined && (
        <span className="part-field-problem" id={`${id}-problem`}>
          {problem}
        </span>
      )}
      {hint !== undefined && (
        <span className="part-field-hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
    </div>
  );
}

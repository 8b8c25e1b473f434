/** One of a few: all of them in sight (`Choice`), or folded into a list where there are many (`ListChoice`). */
import { type ReactNode, useId } from 'react';
import './parts.css';

export interface Option<T extends string> {
  readonly value: T;
  readonly label: string;
}

interface ChoiceProps<T extends string> {
  readonly label: string;
  readonly options: readonly Option<T>[];
  readonly value: T;
  readonly onChange: (value: T) => void;
  readonly hint?: ReactNode;
}

export function Choice<T extends string>({ label, options, value, onChange, hint }: ChoiceProps<T>) {
  const name = useId();
  return (
    <fieldset className="part-choice" aria-describedby={hint === undefined ? undefined : `${name}-hint`}>
      <legend className="part-field-label">{label}</legend>
      <span className="part-choice-options">
        {options.map((option) => (
          <label key={option.value} className="part-choice-option">
            <input
              type="radio"
              name={name}
              value={option.value}
              checked={option.value === value}
              onChange={() => onChange(option.value)}
            />
            <span>{option.label}</span>
          </label>
        ))}
      </span>
      {hint !== undefined && (
        <span className="part-field-hint" id={`${name}-hint`}>
          {hint}
        </span>
      )}
    </fieldset>
  );
}

export function ListChoice<T extends string>({ label, options, value, onChange, hint }: ChoiceProps<T>) {
  const id = useId();
  return (
    <div className="part-field">
      <label htmlFor={id} className="part-field-label">
        {label}
      </label>
      <select
        id={id}
        value={value}
        aria-describedby={hint === undefined ? undefined : `${id}-hint`}
        onChange={(event) => onChange(event.target.value as T)}
      >
        {options.map((option) => (
          <option key={option.value} value={option.value}>
            {option.label}
          </option>
        ))}
      </select>
      {hint !== undefined && (
        <span className="part-field-hint" id={`${id}-hint`}>
          {hint}
        </span>
      )}
    </div>
  );
}

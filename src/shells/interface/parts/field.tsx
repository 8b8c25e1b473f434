/** A line of text or a number with its unit; what is wrong with it stands beside it. */
import { type ReactNode, type RefObject, useId } from 'react';
import './parts.css';

interface FieldProps {
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

/** One of a few: all of them in sight (`Choice`), or folded into a list where there are many (`ListChoice`). */

interface Option<T extends string> {
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

/** The system's dialog for choosing files, opened by a button of the page: unseen itself, and no stop of the keyboard. */

/** Photographs that can be measured, by type and, for systems that know no types, by ending. */
export const ACCEPTED_TYPES = 'image/jpeg,image/png,image/tiff,.jpg,.jpeg,.png,.tif,.tiff';

interface FileInputProps {
  readonly input: RefObject<HTMLInputElement | null>;
  readonly accept: string;
  readonly areSeveral?: boolean;
  /** What is chosen, where a page has more than one of these. */
  readonly label?: string;
  readonly onFiles: (files: readonly File[]) => void;
}

export function FileInput({ input, accept, areSeveral = false, label, onFiles }: FileInputProps) {
  return (
    <input
      ref={input}
      className="unseen"
      type="file"
      tabIndex={-1}
      aria-label={label}
      aria-hidden={label === undefined}
      accept={accept}
      multiple={areSeveral}
      onChange={({ currentTarget }) => {
        onFiles([...(currentTarget.files ?? [])]);
        // The same file may be chosen again.
        currentTarget.value = '';
      }}
    />
  );
}

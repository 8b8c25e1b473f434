/** A number on a scale, with what it means beside it. */
import { useId } from 'react';

export interface SliderProps {
  readonly label: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly step: number;
  /** The value in words. */
  readonly words: string;
  readonly onChange: (value: number) => void;
}

export function Slider({ label, value, least, most, step, words, onChange }: SliderProps) {
  const id = useId();
  return (
    <div className="reading-slider">
      <label htmlFor={id}>{label}</label>
      <output htmlFor={id}>{words}</output>
      <input
        id={id}
        type="range"
        min={least}
        max={most}
        step={step}
        value={value}
        aria-valuetext={words}
        onChange={(event) => onChange(Number(event.target.value))}
      />
    </div>
  );
}

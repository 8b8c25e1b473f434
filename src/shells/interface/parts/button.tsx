/** A button. Where it cannot be pressed it stays reachable and says why, so that nobody has to guess. */
import { type ReactNode, type Ref, useId } from 'react';
import './parts.css';

interface ButtonProps {
  /** `main` stands once on a screen; `quiet` is for what is rarely wanted. */
  readonly kind?: 'main' | 'plain' | 'quiet' | undefined;
  readonly onClick: () => void;
  readonly children: ReactNode;
  /** Why it cannot be pressed now; absent or undefined where it can. */
  readonly whyNot?: string | undefined;
  /** A fuller name for screen readers, where the words alone would be ambiguous. */
  readonly name?: string | undefined;
  /** The keys that do the same, as `aria-keyshortcuts` writes them. */
  readonly keys?: string | undefined;
  readonly isPressed?: boolean | undefined;
  readonly ref?: Ref<HTMLButtonElement> | undefined;
}

export function Button({ kind = 'plain', onClick, children, whyNot, name, keys, isPressed, ref }: ButtonProps) {
  const reasonId = useId();
  const button = (
    <button
      ref={ref}
      type="button"
      className={`part-button part-button-${kind}`}
      aria-label={name}
      aria-keyshortcuts={keys}
      aria-pressed={isPressed}
      aria-disabled={whyNot === undefined ? undefined : true}
      aria-describedby={whyNot === undefined ? undefined : reasonId}
      onClick={() => {
        if (whyNot === undefined) onClick();
      }}
    >
      {children}
    </button>
  );
  if (whyNot === undefined) return button;
  return (
    <span className="part-button-reasoned">
      {button}
      <span className="part-button-reason" id={reasonId}>
        {whyNot}
      </span>
    </span>
  );
}

/** An empty place for a photograph: says what belongs there, and opens the dialog when it is pressed. */
interface DropButtonProps {
  readonly what: string;
  readonly how: string;
  readonly onClick: () => void;
}

export function DropButton({ what, how, onClick }: DropButtonProps) {
  return (
    <button type="button" className="drop-button" onClick={onClick}>
      <span className="drop-button-what">{what}</span>
      <span className="drop-button-how">{how}</span>
    </button>
  );
}
